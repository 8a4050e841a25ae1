# Spread between positions by base R: Weibull lives whose log scale is normal between positions, the position's part integrated over a fine
# even grid of 1201 points from -12 to 12 standard deviations, the top by optim, profile bounds by uniroot over optim.
# Run: Rscript spread.R > spread.json
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}") }
plant <- function(seed, positions, spread, shape, years, days, late) {
  set.seed(seed); out <- NULL
  for (p in 1:positions) {
    u <- exp(spread * rnorm(1)); t <- if (late) -floor(runif(1) * 700) else 0
    while (t < years * 365) {
      life <- 900 * u * rexp(1)^(1 / shape); stop <- min(730, years * 365 - t); entry <- max(0, -t)
      if (min(life, stop) > entry + 1) {
        d <- max(1, round(life), entry + 1)
        out <- rbind(out, if (life > stop) c(stop, Inf, entry, p) else if (days) c(d - 0.5, d + 0.5, entry, p) else c(round(life, 2), round(life, 2), entry, p))
      }
      t <- t + min(life, stop)
    }
  }
  out
}
cases <- list(
  exact = plant(1, 60, 0.4, 3, 6, FALSE, FALSE),
  lateDays = plant(2, 80, 0.5, 2, 5, TRUE, TRUE),
  sharp = plant(3, 30, 0.6, 12, 6, FALSE, FALSE),
  alike = plant(5, 50, 0, 3, 6, TRUE, FALSE))
study <- function(d) {
  lower <- pmax(d[, 1], d[, 3]); upper <- d[, 2]; entry <- d[, 3]; pos <- match(d[, 4], unique(d[, 4])); n <- max(pos)
  exact <- upper == d[, 1]; inter <- is.finite(upper) & !exact
  x <- seq(-12, 12, length.out = 1201); w <- dnorm(x) * (x[2] - x[1])
  ll <- function(b, e, s) {
    k <- exp(b); v <- -k * s * x; z <- exp(v)
    H <- function(t) (t / exp(e))^k
    # Rows by grid points, in logs.
    g <- -outer(H(lower), z)
    g[exact, ] <- g[exact, ] + outer(b - k * e + (k - 1) * log(lower[exact]), v, "+")
    if (any(inter)) g[inter, ] <- g[inter, ] + log(-expm1(-outer(H(upper[inter]) - H(lower[inter]), z)))
    G <- rowsum(g, pos); top <- apply(G, 1, max)
    value <- sum(top + log(exp(G - top) %*% w))
    if (any(entry > 0)) { E <- rowsum(-outer(H(entry), z), pos); value <- value - sum(log(exp(E) %*% w)) }
    if (is.finite(value)) value else -1e10
  }
  at0 <- optim(c(0.5, log(900)), function(p) -ll(p[1], p[2], 0), control = list(reltol = 1e-15))
  at0 <- optim(at0$par, function(p) -ll(p[1], p[2], 0), method = "BFGS", control = list(reltol = 1e-16), hessian = FALSE)
  top <- optim(c(at0$par[1] + 0.2, at0$par[2], 0.3), function(p) -ll(p[1], p[2], abs(p[3])), control = list(reltol = 1e-14, maxit = 2000))
  top <- optim(top$par, function(p) -ll(p[1], p[2], abs(p[3])), method = "BFGS", control = list(reltol = 1e-16, ndeps = rep(1e-4, 3), parscale = c(1, 0.3, 0.3)))
  s <- abs(top$par[3]); best <- -top$value
  if (best < -at0$value + 1e-7) { s <- 0; best <- -at0$value; top$par <- c(at0$par, 0) }
  drop <- qchisq(0.9, 1) / 2
  profile <- function(s) -optim(top$par[1:2], function(p) -ll(p[1], p[2], s), method = "BFGS", control = list(reltol = 1e-14, ndeps = rep(1e-4, 2), parscale = c(1, 0.3)))$value - best + drop
  low <- if (best + at0$value > drop) uniroot(profile, c(1e-3, s), tol = 1e-7)$root else 0
  high <- uniroot(profile, c(max(s, 0.01), 3 * max(s, 0.2)), tol = 1e-7)$root
  obj(shape = sprintf("%.15g", exp(top$par[1])), scale = sprintf("%.15g", exp(top$par[2])), spread = sprintf("%.15g", s), low = sprintf("%.15g", low), high = sprintf("%.15g", high),
    logLikelihood = sprintf("%.15g", best), alike = sprintf("%.15g", -at0$value))
}
out <- sapply(names(cases), function(n) { d <- cases[[n]]; obj(lower = num(d[, 1]), upper = num(d[, 2]), entry = num(d[, 3]), position = num(d[, 4]), fit = study(d)) })
cat("{\n", paste(sprintf('"%s":%s', names(cases), out), collapse = ",\n"), "\n}\n", sep = "")
