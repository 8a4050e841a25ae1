# Mean cumulative number of events by R's survival package: cumulative hazard of survfit(Surv(start, stop, event) ~ 1, id = id), whose
# robust standard error sums what the events of one system add (Lawless & Nadeau). "valveSeat": 41 engines (Nelson & Doganaksoy
# 1989). "infections": children with chronic granulomatous disease (data set cgd), placebo arm. "late": the same, every second child
# watched only from its second row on. "costs": the same rows with a weight for each event, from the definition written out here.
# Run: Rscript meanCumulative.R > meanCumulative.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
curve <- function(fit) {
  k <- fit$n.event > 0
  obj(list(age = num(fit$time[k]), mean = num(fit$cumhaz[k]), standardError = num(fit$std.chaz[k]), atRisk = num(fit$n.risk[k])))
}
rows <- function(d) list(id = num(d$id), start = num(d$start), stop = num(d$stop), event = num(d$event))
# Two replacements of one engine on one day are a row of length 0, which Surv refuses: half a day apart here and in the test.
v <- valveSeat[order(valveSeat$id, valveSeat$time, -valveSeat$status), ]
v$stop <- v$time
same <- which(diff(v$id) == 0 & diff(v$time) == 0) + 1
for (i in same) v$stop[i] <- v$stop[i - 1] + 0.5
v$start <- ave(v$stop, v$id, FUN = function(t) c(0, head(t, -1)))
seats <- data.frame(id = v$id, start = v$start, stop = v$stop, event = v$status)
fit <- function(d) survfit(Surv(start, stop, event) ~ 1, d, id = id)
p <- cgd[cgd$treat == "placebo", ]
p <- data.frame(id = p$id, start = p$tstart, stop = p$tstop, event = p$status)
first <- !duplicated(p$id)
even <- as.integer(factor(p$id)) %% 2 == 0
several <- p$id %in% p$id[duplicated(p$id)]
late <- p[!(first & even & several), ]
cost <- p
cost$event <- cost$event * (1 + seq_len(nrow(cost)) %% 3)
# The definition: a of a system adds up [its events - events per system] / at risk while it is watched; the variance is the sum of a squared.
ages <- sort(unique(cost$stop[cost$event > 0]))
ids <- unique(cost$id)
a <- setNames(numeric(length(ids)), ids); m <- 0; mean <- se <- risk <- NULL
for (t in ages) {
  in_watch <- cost$id[cost$start < t & cost$stop >= t]
  n <- length(in_watch)
  dn <- sapply(as.character(ids), function(i) sum(cost$event[cost$id == as.numeric(i) & cost$stop == t]))
  a <- a + (as.character(ids) %in% as.character(in_watch)) * (dn - sum(dn) / n) / n
  m <- m + sum(dn) / n
  mean <- c(mean, m); se <- c(se, sqrt(sum(a^2))); risk <- c(risk, n)
}
costs <- obj(list(age = num(ages), mean = num(mean), standardError = num(se), atRisk = num(risk)))
case <- function(d, curve) obj(c(list(rows = obj(rows(d))), list(curve = curve)))
cat("{\n\"valveSeat\":", case(seats, curve(fit(seats))), ",\n\"infections\":", case(p, curve(fit(p))), ",\n\"late\":", case(late, curve(fit(late))),
  ",\n\"costs\":", case(cost, costs), "\n}\n", sep = "")
