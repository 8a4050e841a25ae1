# Lives under covariates that change in steps, by the likelihood written out here and R's optim (BFGS), sharpened by Newton steps with the
# curvature by differences of the gradient; and the exponential case by glm, where it is a Poisson regression of piecewise exposures.
# The lives are drawn here. Run: Rscript stepped.R > stepped.json
set.seed(20261128)
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
n <- 90
cut1 <- round(runif(n, 30, 300)); cut2 <- cut1 + round(runif(n, 30, 400))
load <- matrix(round(runif(3 * n, 0, 3), 1), n)
steam <- matrix(rbinom(3 * n, 1, 0.4), n)
b_true <- c(-0.4, -0.6)
rate <- exp(-(load * b_true[1] + steam * b_true[2]))
z_at <- function(t, w) pmin(t, cut1) * w[, 1] + pmax(0, pmin(t, cut2) - cut1) * w[, 2] + pmax(0, t - cut2) * w[, 3]
target <- exp(7 + 0.4 * log(-log(runif(n))))
age_of <- function(z, i) uniroot(function(t) z_at(rep(t, n), rate)[i] - z, c(0, 1e6), tol = 1e-10)$root
life <- sapply(1:n, function(i) age_of(target[i], i))
entry <- ifelse(seq_len(n) %% 4 == 0, pmin(100, round(life / 3)), 0)
kind <- seq_len(n) %% 5
# 1 sound at 60 % of its life, 2 known to an interval, the rest exact.
lower <- ifelse(kind == 1, pmax(0.6 * life, entry + 1), ifelse(kind == 2, 0.8 * life, life))
upper <- ifelse(kind == 1, Inf, ifelse(kind == 2, 1.2 * life, life))
lower <- round(lower, 3); upper <- round(upper, 3)
position <- ceiling(seq_len(n) / 3)
laws <- list(
  weibull = list(S = function(u) -exp(u), f = function(u) u - exp(u)),
  exponential = list(S = function(u) -exp(u), f = function(u) u - exp(u)),
  lognormal = list(S = function(u) pnorm(u, lower.tail = FALSE, log.p = TRUE), f = function(u) dnorm(u, log = TRUE)),
  loglogistic = list(S = function(u) -log1p(exp(u)), f = function(u) u - 2 * log1p(exp(u))))
rows <- function(p, kind) {
  law <- laws[[kind]]
  s <- if (kind == "exponential") 1 else exp(p[4])
  w <- exp(-(load * p[2] + steam * p[3]))
  u <- function(t) (log(z_at(t, w)) - p[1]) / s
  inst <- ifelse(upper <= cut1, log(w[, 1]), ifelse(upper <= cut2, log(w[, 2]), log(w[, 3])))
  exact <- law$f(u(upper)) - log(s) - log(z_at(upper, w)) + inst
  sound <- law$S(u(lower))
  between <- log(exp(law$S(u(lower))) - exp(law$S(u(pmin(upper, 1e9)))))
  ifelse(upper == Inf, sound, ifelse(upper > lower, between, exact)) - ifelse(entry > 0, law$S(u(entry)), 0)
}
step <- 1e-4
jac <- function(f, p, h = step) sapply(seq_along(p), function(j) {
  e <- replace(0 * p, j, h)
  (8 * (f(p + e) - f(p - e)) - (f(p + 2 * e) - f(p - 2 * e))) / (12 * h)
})
fit <- function(kind) {
  p0 <- c(7, -0.3, -0.3, if (kind != "exponential") -1)
  value <- function(p) sum(rows(p, kind))
  slope <- function(p) colSums(jac(function(q) rows(q, kind), p))
  p <- optim(p0, value, slope, method = "BFGS", control = list(fnscale = -1, reltol = 1e-15, maxit = 1000))$par
  curve <- function(p) { h <- jac(slope, p, 1e-3); (h + t(h)) / 2 }
  for (i in 1:6) p <- as.vector(p - solve(curve(p), slope(p)))
  v <- solve(-curve(p))
  scores <- rowsum(jac(function(q) rows(q, kind), p), position)
  sprintf('"%s":{"coefficients":%s,"covariance":%s,"robust":%s,"logLikelihood":%.15g}', kind, num(p), num(as.vector(v)),
    num(as.vector(v %*% crossprod(scores) %*% v)), value(p))
}
# Exponential lives of exact and sound ages only: each piece of exposure is a Poisson count with the log of its length as offset.
only <- kind != 2
pieces <- do.call(rbind, lapply(which(only), function(i) {
  from <- c(0, cut1[i], cut2[i]); to <- pmin(c(cut1[i], cut2[i], Inf), lower[i])
  from <- pmax(from, entry[i])
  keep <- to > from
  last <- max(which(keep))
  data.frame(length = (to - from)[keep], failed = as.numeric(which(keep) == last & upper[i] < Inf), load = load[i, keep], steam = steam[i, keep])
}))
g <- glm(failed ~ load + steam + offset(log(length)), poisson, pieces, control = glm.control(epsilon = 1e-14, maxit = 100))
poisson <- sprintf('"poisson":{"rows":%s,"coefficients":%s,"covariance":%s}', num(which(only) - 1), num(-coef(g)), num(as.vector(vcov(g))))
up <- gsub("Inf", "null", num(upper))
cat("{\n", sprintf('"lower":%s,\n"upper":%s,\n"entry":%s,\n"position":%s,\n"cut1":%s,\n"cut2":%s,\n"load":%s,\n"steam":%s,\n',
  num(lower), up, num(entry), num(position), num(cut1), num(cut2), num(as.vector(load)), num(as.vector(steam))),
  paste(sapply(names(laws), fit), collapse = ",\n"), ",\n", poisson, "\n}\n", sep = "")
