# Cumulative incidence by failure mode (Aalen-Johansen) by R's survival package: survfit with a factor status, its standard
# errors, and bounds on both axes. "counts": its data set mgus2 (plasma cell malignancy and death, with many ties), told as
# distinct rows with counts here and row by row to R. "late": delayed entry, ties and counts. "start": the same lives from the
# age at which five are watched. Run: Rscript incidence.R > incidence.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
arr <- function(a) paste0("[", paste(unlist(a), collapse = ","), "]")
curves <- function(entry, exit, mode, count, modes, ...) {
  i <- rep(seq_along(exit), count)
  lives <- data.frame(entry = entry[i], exit = exit[i], status = factor(mode[i], 0:modes), id = seq_along(i))
  fit <- function(type) survfit(Surv(entry, exit, status) ~ 1, lives, id = id, conf.int = 0.9, conf.type = type, ...)
  plain <- fit("plain"); logs <- fit("log-log")
  arr(lapply(1:modes + 1, function(j) {
    k <- plain$n.event[, j] > 0
    obj(list(age = num(plain$time[k]), failed = num(plain$n.event[k, j]), atRisk = num(plain$n.risk[k, 1]),
      incidence = num(plain$pstate[k, j]), standardError = num(plain$std.err[k, j]),
      plainLow = num(plain$lower[k, j]), plainHigh = num(plain$upper[k, j]),
      low = num(logs$lower[k, j]), high = num(logs$upper[k, j])))
  }))
}
case <- function(entry, exit, mode, count, modes, ...)
  obj(list(entry = num(entry), exit = num(exit), mode = num(mode), count = num(count), curves = curves(entry, exit, mode, count, modes, ...)))
m <- with(mgus2, data.frame(exit = ifelse(pstat == 0, futime, ptime), mode = ifelse(pstat == 0, 2 * death, 1), count = 1))
m <- aggregate(count ~ exit + mode, m, sum)
counts <- case(rep(0, nrow(m)), m$exit, m$mode, m$count, 2)
entry <- c(0, 0, 0, 0, 0, 0, 120, 250, 400, 400, 600, 600, 750, 800, 0, 300, 0, 0, 500, 0, 200, 1000, 860, 310)
exit <- c(310, 1450, 980, 1500, 860, 860, 700, 1330, 1120, 1500, 1010, 1500, 860, 1240, 1500, 1390, 1500, 760, 1080, 1500, 400, 1275, 980, 860)
mode <- c(1, 2, 1, 0, 2, 0, 1, 3, 1, 0, 2, 0, 1, 1, 0, 2, 0, 3, 1, 0, 2, 1, 2, 2)
count <- c(1, 2, 1, 3, 2, 1, 1, 1, 3, 1, 1, 2, 1, 1, 1, 1, 4, 1, 2, 1, 1, 1, 1, 2)
late <- case(entry, exit, mode, count, 3)
first <- c(50, 90, 150, 180, 200, 200, 260, 300, 420, 420, 500, 610)
last <- c(170, 400, 330, 450, 330, 700, 400, 640, 450, 700, 640, 660)
why <- c(2, 1, 1, 2, 2, 0, 1, 1, 2, 0, 2, 1)
start <- case(first, last, why, rep(1, 12), 2, start.time = 200)
cat("{\n\"counts\":", counts, ",\n\"late\":", late, ",\n\"start\":", start, "\n}\n", sep = "")
