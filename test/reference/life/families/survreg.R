# Maximum likelihood by R's survival package, survreg, over its own data sets and a few small ones with hard features: Weibull,
# exponential, lognormal, log-logistic and, on ages as they are, smallest extreme value; complete, right-, left- and interval-censored,
# counts as weights. Gives intercept, log of survreg's scale, their covariance and the log likelihood. A fit that does not end is null.
# Run: Rscript survreg.R > survreg.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
one <- function(lower, upper, count, dist) {
  l <- ifelse(lower == 0, NA, lower); u <- ifelse(is.infinite(upper), NA, upper)
  fit <- tryCatch(survreg(Surv(l, u, type = "interval2") ~ 1, weights = count, dist = dist,
    control = survreg.control(rel.tolerance = 1e-13, maxiter = 500)), warning = function(w) NULL, error = function(e) NULL)
  if (is.null(fit) || !all(is.finite(c(coef(fit), fit$scale, fit$var)))) return("null")
  obj(list(intercept = sprintf("%.15g", coef(fit)), logScale = sprintf("%.15g", log(fit$scale)),
    covariance = num(as.vector(fit$var)), logLikelihood = sprintf("%.15g", fit$loglik[2])))
}
dists <- c("weibull", "exponential", "lognormal", "loglogistic", "extreme")
case <- function(lower, upper, count = rep(1, length(lower)), without = NULL) {
  use <- setdiff(dists, without)
  obj(list(lower = num(lower), upper = num(upper), count = num(count),
    fits = obj(setNames(lapply(use, function(d) one(lower, upper, count, d)), use))))
}
right <- function(t, failed, count = rep(1, length(t)), without = NULL) {
  d <- aggregate(count ~ t + failed, data.frame(t, failed = as.numeric(failed), count), sum)
  case(d$t, ifelse(d$failed == 1, d$t, Inf), d$count, without)
}
seats <- with(valveSeat, { n <- rev(!duplicated(rev(id))); gap <- ave(time, id, FUN = function(x) c(x[1], diff(x))); list(t = gap, d = status) })
keep <- seats$t > 0
cases <- list(
  ovarian = right(ovarian$futime, ovarian$fustat),
  leukemia = right(leukemia$time, leukemia$status),
  lung = right(lung$time, lung$status == 2),
  veteran = right(veteran$time, veteran$status),
  rats = right(rats$time, rats$status),
  capacitor = with(subset(capacitor, fail > 0 | TRUE), right(time, status)),
  genfan = right(genfan$hours, genfan$status),
  stanford = right(stanford2$time, stanford2$status),
  retinopathy = right(retinopathy$futime, retinopathy$status),
  valveSeat = right(seats$t[keep], seats$d[keep]),
  turbine = with(turbine, case(c(rep(0, sum(failed > 0)), hours[inspected > failed]), c(hours[failed > 0], rep(Inf, sum(inspected > failed))),
    c(failed[failed > 0], (inspected - failed)[inspected > failed]))),
  cracks = with(cracks, { edge <- c(0, days); n <- sum(fail); case(c(edge[seq_along(fail)], max(days)), c(days, Inf), c(fail, 167 - n)) }),
  # Durables: amounts spent, most of them at the limit below which none is seen (left-censored there, moved to an age of 1).
  tobin = with(tobin, case(ifelse(durable > 0, durable, 0), ifelse(durable > 0, durable, 1), without = character())),
  # Two failures among a hundred lives.
  heavy = case(c(310, 480, 500), c(310, 480, Inf), c(1, 1, 98)),
  # One failure, older lives.
  single = case(c(200, 150, 700), c(200, Inf, Inf), c(1, 3, 4)),
  # Whole days: each failure within half a day of the day noted.
  days = case(c(0, 11.5, 30.5, 62.5, 62.5, 90.5, 131.5, 199.5, 200), c(1, 12.5, 31.5, 63.5, 63.5, 91.5, 132.5, 200.5, Inf), c(1, 1, 2, 1, 1, 3, 1, 1, 7)),
  # Every kind of row, counts, wide and narrow intervals, ages far apart.
  mixed = case(c(3, 1000, 0, 0, 50, 400, 400, 900, 1500, 2200), c(3, 1000, 20, 700, 60, 1100, Inf, Inf, 1500, Inf), c(1, 2, 1, 3, 1, 4, 2, 5, 1, 1)),
  # Almost all at one age.
  tied = case(c(99, 100, 100, 101, 90), c(99, 100, 100, 101, Inf), c(1, 40, 2, 1, 3)),
  # Ages in very small and very large units.
  small = case(1e-9 * c(3, 5, 6, 7.5, 9, 9), 1e-9 * c(3, 5, 6, 7.5, 9, Inf)),
  large = case(1e12 * c(3, 5, 6, 7.5, 9, 9), 1e12 * c(3, 5, 6, 7.5, 9, Inf)),
  # A shape far below 1: ages over nine orders of magnitude.
  spread = case(c(1e-4, 0.03, 2, 15, 900, 4e4, 2e5, 3e5), c(1e-4, 0.03, 2, 15, 900, 4e4, 2e5, Inf))
)
cat("{\n", paste(sprintf('"%s":%s', names(cases), unlist(cases)), collapse = ",\n"), "\n}\n", sep = "")
