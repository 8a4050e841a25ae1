# Residuals of fits by survreg: -log of the fitted survival (H), and their cumulative hazard by survfit (sum of events over at risk);
# false-discovery rates by p.adjust. Base R and its survival package.
# Run: Rscript residuals.R > residuals.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}") }
ctl <- survreg.control(rel.tolerance = 1e-14, maxiter = 200)
set.seed(3)
age <- round(rweibull(60, 1.6, 700), 1); stop <- round(runif(60, 100, 1200), 1)
time <- pmin(age, stop); failed <- as.numeric(age <= stop)
time[1:4] <- 300; failed[1:4] <- 1
study <- function(dist) {
  f <- survreg(Surv(time, failed) ~ 1, dist = dist, control = ctl); z <- (log(time) - coef(f)) / f$scale
  H <- switch(dist, weibull = exp(z), lognormal = -pnorm(z, lower.tail = FALSE, log.p = TRUE), loglogistic = log1p(exp(z)))
  # Rounded to 12 digits, so that residuals of one age are one age.
  s <- survfit(Surv(signif(H, 12), failed) ~ 1, timefix = FALSE); ev <- s$n.event > 0
  obj(residual = num(H), at = num(s$time[ev]), cumulativeHazard = num(cumsum(s$n.event / s$n.risk)[ev]))
}
p <- c(0.001, 0.008, 0.039, 0.041, 0.042, 0.06, 0.074, 0.205, 0.212, 0.216, 0.222, 0.251, 0.269, 0.275, 0.34, 0.341, 0.384, 0.569, 0.594, 0.696, 0.762, 0.94, 0.942, 0.975, 0.986, 0.02, 0.02, 1, 0)
cat("{\n\"time\":", num(time), ",\n\"failed\":", num(failed), ",\n\"weibull\":", study("weibull"), ",\n\"lognormal\":", study("lognormal"),
  ",\n\"loglogistic\":", study("loglogistic"), ",\n\"p\":", num(p), ",\n\"adjusted\":", num(p.adjust(p, "BH")), "\n}\n", sep = "")
