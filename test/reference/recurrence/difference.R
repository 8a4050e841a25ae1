# Difference of two mean cumulative numbers by R's survival package: children with chronic granulomatous disease (data set cgd), placebo
# less treated, each arm by survfit(Surv(start, stop, event) ~ 1, id = id) with its robust standard error; arms are independent.
# "trends": Laplace's statistic and the chi-square of the military handbook for the infections of each arm, pooled, from their definitions.
# Run: Rscript difference.R > difference.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
arm <- function(which) {
  d <- cgd[cgd$treat == which, ]
  data.frame(id = d$id, start = d$tstart, stop = d$tstop, event = d$status)
}
placebo <- arm("placebo"); treated <- arm("rIFN-g")
curve <- function(d) survfit(Surv(start, stop, event) ~ 1, d, id = id)
events <- function(d) sort(unique(d$stop[d$event > 0]))
ages <- sort(unique(c(events(placebo), events(treated))))
ages <- ages[ages <= min(max(placebo$stop), max(treated$stop))]
at <- function(fit, what) { k <- findInterval(ages, fit$time); c(0, fit[[what]])[k + 1] }
a <- curve(placebo); b <- curve(treated)
difference <- at(a, "cumhaz") - at(b, "cumhaz")
se <- sqrt(at(a, "std.chaz")^2 + at(b, "std.chaz")^2)
trend <- function(d) {
  end <- tapply(d$stop, d$id, max)
  hit <- d[d$event > 0, ]
  length <- end[as.character(hit$id)]
  laplace <- sum(hit$stop - length / 2) / sqrt(sum(length^2) / 12)
  chi <- -2 * sum(log(hit$stop / length))
  df <- 2 * nrow(hit)
  obj(list(laplace = sprintf("%.15g", laplace), laplaceP = sprintf("%.15g", 2 * pnorm(-abs(laplace))),
    chi = sprintf("%.15g", chi), df = df, chiP = sprintf("%.15g", 2 * min(pchisq(chi, df), pchisq(chi, df, lower.tail = FALSE)))))
}
rows <- function(d) obj(list(id = num(d$id), start = num(d$start), stop = num(d$stop), event = num(d$event)))
cat("{\n\"placebo\":", rows(placebo), ",\n\"treated\":", rows(treated), ",\n\"age\":", num(ages), ",\n\"difference\":", num(difference),
  ",\n\"standardError\":", num(se), ",\n\"trends\":{\"placebo\":", trend(placebo), ",\"treated\":", trend(treated), "}\n}\n", sep = "")
