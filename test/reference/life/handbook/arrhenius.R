# Regressions of A5, B4 and B6 a second time: the likelihood written out here and maximised by optim and Newton steps, where published.json
# holds what survreg says. Covariance by differences of the gradient. Run: Rscript arrhenius.R > arrhenius.json
one <- function(law, y, failed, X) {
  value <- function(p) {
    s <- exp(p[length(p)]); if (law == "exponential") s <- 1
    z <- (y - X %*% p[seq_len(ncol(X))]) / s
    log_f <- if (law == "lognormal") dnorm(z, log = TRUE) else z - exp(z)
    log_s <- if (law == "lognormal") pnorm(z, lower.tail = FALSE, log.p = TRUE) else -exp(z)
    sum(ifelse(failed == 1, log_f - log(s) - y, log_s))
  }
  gradient <- function(p) {
    s <- exp(p[length(p)]); if (law == "exponential") s <- 1
    z <- as.vector((y - X %*% p[seq_len(ncol(X))]) / s)
    g <- if (law == "lognormal") ifelse(failed == 1, z, exp(dnorm(z, log = TRUE) - pnorm(z, lower.tail = FALSE, log.p = TRUE))) else
      exp(z) - (failed == 1)
    beta <- as.vector(t(X) %*% g) / s
    if (law == "exponential") beta else c(beta, sum(z * g - (failed == 1)))
  }
  start <- coef(lm(y ~ X - 1))
  p <- unname(if (law == "exponential") start else c(start, 0))
  bfgs <- function(p) optim(p, value, gradient, method = "BFGS", control = list(fnscale = -1, reltol = 1e-15, maxit = 5000))$par
  p <- bfgs(bfgs(p))
  # Central differences of the gradient, steps in proportion to the standard errors.
  hessian <- function(p, h) sapply(seq_along(p), function(j) {
    e <- replace(0 * p, j, h[j]); (gradient(p + e) - gradient(p - e)) / (2 * h[j])
  })
  h <- rep(1e-5, length(p))
  for (i in 1:12) p <- as.vector(p - solve(hessian(p, h), gradient(p)))
  list(coef = p, covariance = as.vector(solve(-(hessian(p, h) + t(hessian(p, h))) / 2)), logLik = value(p))
}
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
case <- function(law, time, failed, x) {
  m <- mean(x)
  r <- one(law, log(time), failed, cbind(1, x - m))
  # Centred for the search; back to the columns as given.
  k <- length(r$coef)
  B <- diag(k); B[1, 2] <- -m
  sprintf('{"coef":%s,"covariance":%s,"logLik":%.15g}', num(B %*% r$coef), num(B %*% matrix(r$covariance, k) %*% t(B)), r$logLik)
}
library(survival)
cell <- list("85" = c(401, 428, 695, 725, 738),
  "105" = c(171, 187, 189, 266, 275, 285, 301, 302, 305, 316, 317, 324, 349, 350, 386, 405, 480, 493, 530, 534, 536, 567, 589, 598, 599, 614, 620, 650,
    668, 685, 718, 795, 854, 917, 926),
  "125" = c(24, 42, 92, 93, 141, 142, 143, 159, 181, 188, 194, 199, 207, 213, 243, 256, 259, 290, 294, 305, 392, 454, 502, 696))
units <- c(100, 50, 25)
sound <- units - lengths(cell)
time <- c(unlist(cell), rep(1000, sum(sound)))
failed <- rep(1:0, c(sum(lengths(cell)), sum(sound)))
celsius <- as.numeric(c(rep(names(cell), lengths(cell)), rep(names(cell), sound)))
a5 <- case("lognormal", time, failed, 1 / (8.617e-5 * (celsius + 273.16)))
x <- 1 / (8.617333262e-5 * (imotor$temp + 273.15))
laws <- function(names, f) paste0("{", paste(sprintf('"%s":%s', names, sapply(names, f)), collapse = ","), "}")
b4 <- laws(c("lognormal", "weibull"), function(law) case(law, imotor$time, imotor$status, x))
b6 <- laws(c("weibull", "lognormal", "exponential"), function(law) case(law, ifluid$time, 1 + 0 * ifluid$time, log(ifluid$voltage)))
cat(sprintf('{"A5":%s,\n"B4":%s,\n"B6":%s}\n', a5, b4, b6))
