# Curves without a model by R's survival package: survfit with delayed entry and ties, survfit for interval-censored data
# (its self-consistent estimate), and the position-robust covariance of a Weibull fit by survreg(cluster =).
# Run: Rscript curves.R > curves.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}") }
entry <- c(0, 0, 0, 0, 0, 0, 120, 250, 400, 400, 600, 600, 750, 800, 0, 300, 0, 900, 500, 0, 200, 1000)
exit <- c(310, 1450, 980, 1500, 860, 860, 700, 1330, 1120, 1500, 1010, 1500, 860, 1240, 1500, 1390, 1500, 760, 1080, 1500, 400, 1275)
failed <- c(1, 1, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 1, 1)
entries <- entry; entries[c(18)] <- 0
km <- survfit(Surv(entries, exit, failed) ~ 1, conf.int = 0.9, conf.type = "log-log")
ev <- km$n.event > 0
late <- obj(entry = num(entries), exit = num(exit), failed = num(failed), age = num(km$time[ev]), atRisk = num(km$n.risk[ev]),
  survival = num(km$surv[ev]), standardError = num((km$surv * km$std.err)[ev]), low = num(km$lower[ev]), high = num(km$upper[ev]))
lower <- c(0, 90, 90, 180, 270, 365, 365, 0, 180, 200, 300, 90)
upper <- c(90, 180, 270, 365, 365, Inf, Inf, 180, 270, 400, Inf, Inf)
l2 <- ifelse(lower == 0, NA, lower); u2 <- ifelse(is.infinite(upper), NA, upper)
tb <- survfit(Surv(l2, u2, type = "interval2") ~ 1, conf.type = "none")
inter <- obj(lower = num(lower), upper = num(upper), age = num(tb$time), survival = num(tb$surv))
set.seed(7)
pos <- rep(1:40, each = 3); life <- round(900 * exp(rep(rnorm(40, 0, 0.4), each = 3)) * rweibull(120, 3), 0); t <- pmin(life, 730); d <- as.numeric(life <= 730)
fit <- survreg(Surv(t, d) ~ 1, cluster = pos, dist = "weibull", robust = TRUE, control = survreg.control(rel.tolerance = 1e-12, maxiter = 100))
rob <- obj(age = num(t), failed = num(d), position = num(pos), intercept = sprintf("%.15g", coef(fit)), logSigma = sprintf("%.15g", log(fit$scale)),
  robust = num(as.vector(fit$var)), naive = num(as.vector(fit$naive.var)))
cat("{\n\"late\":", late, ",\n\"interval\":", inter, ",\n\"robust\":", rob, "\n}\n", sep = "")
