# BCa ends by R's package boot (boot.ci on resampled statistics and influences that are given, so that both sides have the same), and
# normal and profile-likelihood bounds of the chance that a life of an age lasts on, by base R: uniroot for the location, optimize
# over the spread, uniroot for the end.
# Run: Rscript moreBounds.R > moreBounds.json
suppressMessages(library(boot))
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}") }
balls <- c(17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4)
stat <- function(x, i) log(sd(x[i]) / mean(x[i]))
set.seed(21)
b <- boot(balls, stat, R = 999)
left <- sapply(seq_along(balls), function(i) stat(balls, seq_along(balls)[-i]))
L <- mean(left) - left
ends <- function(conf) boot.ci(b, conf = conf, type = "bca", L = L)$bca[4:5]
bca <- obj(values = num(sort(b$t[, 1])), estimate = sprintf("%.15g", b$t0), leftOut = num(left), c80 = num(ends(0.8)), c90 = num(ends(0.9)), c95 = num(ends(0.95)))

hours <- c(450, 460, 1150, 1150, 1560, 1600, 1660, 1850, 1850, 1850, 1850, 1850, 2030, 2030, 2030, 2070, 2070, 2080, 2200, 3000, 3000, 3000, 3000, 3100, 3200, 3450, 3750, 3750, 4150, 4150, 4150, 4150, 4300, 4300, 4300, 4300, 4600, 4850, 4850, 4850, 4850, 5000, 5000, 5000, 6100, 6100, 6100, 6100, 6300, 6450, 6450, 6700, 7450, 7800, 7800, 8100, 8100, 8200, 8500, 8500, 8500, 8750, 8750, 8750, 9400, 9900, 10100, 10100, 10100, 11500)
status <- c(1, 0, 1, 1, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0)
H <- list(weibull = function(z) exp(z), lognormal = function(z) -pnorm(z, lower.tail = FALSE, log.p = TRUE), loglogistic = function(z) log1p(exp(z)))
logh <- list(weibull = function(z) z, lognormal = function(z) dnorm(z, log = TRUE) - pnorm(z, lower.tail = FALSE, log.p = TRUE), loglogistic = function(z) z - log1p(exp(z)))
further <- function(kind, age, more, level) {
  ll <- function(ls, mu) { z <- (log(hours) - mu) / exp(ls); sum(status * (logh[[kind]](z) - ls - log(hours)) - H[[kind]](z)) }
  fit <- optim(c(0, 10), function(p) -ll(p[1], p[2]), control = list(reltol = 1e-15, maxit = 5000))
  fit <- optim(fit$par, function(p) -ll(p[1], p[2]), method = "BFGS", control = list(reltol = 1e-16, maxit = 1000))
  q <- function(ls, mu) log(H[[kind]]((log(age + more) - mu) / exp(ls)) - H[[kind]]((log(age) - mu) / exp(ls)))
  top <- -fit$value; drop <- qchisq(level, 1) / 2
  best <- function(v) { f <- function(ls) { g <- function(m) max(q(ls, m) - v, -1e6)
      # A log-logistic has a limit to its hazard: below it no location gives the value.
      if (!(g(-50) > 0)) return(-1e6)
      ll(ls, uniroot(g, c(-50, 60), tol = 1e-13, check.conv = TRUE, maxiter = 10000)$root) }
    o <- optimize(f, fit$par[1] + c(-1.5, 1.5), maximum = TRUE, tol = 1e-9); o$objective - top + drop }
  est <- q(fit$par[1], fit$par[2])
  lo <- uniroot(best, c(est - 2.5, est), tol = 1e-10)$root; hi <- uniroot(best, c(est, est + 2), tol = 1e-10)$root
  obj(estimate = sprintf("%.15g", exp(-exp(est))), likelihood = num(exp(-exp(c(hi, lo)))))
}
cat("{\n\"bca\":", bca, ",\n\"hours\":", num(hours), ",\n\"status\":", num(status), ",\n\"weibull\":", further("weibull", 5000, 3000, 0.9),
  ",\n\"lognormal\":", further("lognormal", 5000, 3000, 0.9), ",\n\"loglogistic\":", further("loglogistic", 5000, 3000, 0.9), "\n}\n", sep = "")
