# Likelihood-ratio tests of groups by R's survival package: survreg with a scale of its own for each group (strata), with one
# shape and a location for each group, and with neither; exact, censored and interval rows (delayed entry has no place in survreg).
# Profile bounds of the common shape and of the first group's scale by fits with these held. Residuals: -log S of a survreg fit and
# the cumulative hazard of these by survfit.
# Run: Rscript groups.R > groups.json
suppressMessages(library(survival))
options(digits = 17)
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
one <- function(x) sprintf("%.15g", x)
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}") }
ctl <- survreg.control(rel.tolerance = 1e-14, maxiter = 200)
data30 <- c(7.74, 17.05, 20.46, 21.02, 22.66, 43.4, 47.3, 139.07, 144.12, 175.88, 194.9)
data34 <- c(0.19, 0.78, 0.96, 1.31, 2.78, 3.16, 4.15, 4.67, 4.85, 6.5, 7.35, 8.01, 8.27, 12.06, 31.75, 32.52, 33.91, 36.71, 72.89)
m190 <- c(408, 408, 1344, 1344, 1440, 1680, 1680, 1680, 1680, 1680)
m220 <- c(408, 408, 504, 504, 504, 528, 528, 528, 528, 528)
set.seed(11)
three <- function(n, shape, scale) { t <- rweibull(n, shape, scale); stop <- runif(n, 200, 1500); d <- t <= stop; cut <- 90
  lo <- ifelse(d, floor(t / cut) * cut, stop); hi <- ifelse(d, lo + cut, Inf); cbind(round(lo, 2), ifelse(is.finite(hi), hi, Inf)) }
i1 <- three(40, 2, 800); i2 <- three(25, 3, 900); i3 <- three(30, 1.5, 500)
cases <- list(
  fluid = list(lower = c(data30, data34), upper = c(data30, data34), group = rep(1:2, c(11, 19))),
  motors = list(lower = c(m190, m220), upper = c(m190[1:5], rep(Inf, 5), m220[1:5], rep(Inf, 5)), group = rep(1:2, each = 10)),
  intervals = list(lower = c(i1[, 1], i2[, 1], i3[, 1]), upper = c(i1[, 2], i2[, 2], i3[, 2]), group = rep(1:3, c(40, 25, 30))))
study <- function(case, dist) {
  lo <- case$lower; hi <- case$upper; g <- factor(case$group)
  # interval2: NA below for left-censored, NA above for right-censored.
  y <- Surv(ifelse(lo == 0, NA, lo), ifelse(is.infinite(hi), NA, hi), type = "interval2")
  fit <- function(f, ...) survreg(f, dist = dist, control = ctl, ...)
  # Groups fitted one by one are what strata gives, and converge where it does not.
  each <- lapply(levels(g), function(k) { yk <- y[g == k]; fit(yk ~ 1) })
  shape <- fit(y ~ 0 + g); all <- fit(y ~ 1)
  strata <- tryCatch(fit(y ~ g + strata(g))$loglik[2], error = function(e) NA)
  top <- shape$loglik[2]; drop <- qchisq(0.9, 1) / 2
  byScale <- function(s) fit(y ~ 0 + g, scale = s)$loglik[2] - top + drop
  s <- shape$scale
  low <- uniroot(byScale, c(s / 4, s), tol = 1e-12)$root; high <- uniroot(byScale, c(s, s * 4), tol = 1e-12)$root
  # Scale of group 1 held by an offset; the others keep their own.
  z <- as.numeric(g == levels(g)[1])
  rest <- if (nlevels(g) > 2) model.matrix(~ 0 + g)[, -1] else matrix(as.numeric(g == levels(g)[2]))
  held <- function(m) fit(y ~ 0 + rest + offset(m * z))$loglik[2] - top + drop
  m <- coef(shape)[1]
  mlow <- uniroot(held, c(m - 2 * s, m), tol = 1e-11)$root; mhigh <- uniroot(held, c(m, m + 2 * s), tol = 1e-11)$root
  obj(separate = num(sapply(each, function(x) x$loglik[1])), strata = if (is.na(strata)) "null" else one(strata),
    shape = one(1 / s), scales = num(exp(coef(shape))), commonShape = one(top),
    shapeBounds = num(1 / c(high, low)), firstScaleBounds = num(exp(c(mlow, mhigh))),
    pooled = one(all$loglik[1]), pooledShape = one(1 / all$scale), pooledScale = one(exp(coef(all))))
}
out <- sapply(names(cases), function(n) { case <- cases[[n]]
  obj(lower = num(case$lower), upper = num(case$upper), group = num(case$group), weibull = study(case, "weibull"),
    lognormal = study(case, "lognormal"), loglogistic = study(case, "loglogistic")) })
cat("{\n", paste(sprintf('"%s":%s', names(cases), out), collapse = ",\n"), "\n}\n", sep = "")
