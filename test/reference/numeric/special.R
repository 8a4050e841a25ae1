# Values of special functions and distributions at the points where formulas break: tiny and large arguments, far tails,
# means of 1e5. R 4.2. Run: Rscript special.R > special.json
rows <- list()
put <- function(f, args, value) {
  rows[[length(rows) + 1]] <<- sprintf('{"f":"%s","args":[%s],"value":%s}', f,
    paste(sprintf("%.17g", args), collapse = ","), sprintf("%.17g", value))
}
for (x in c(1e-10, 0.1, 0.5, 1.5, 2.0001, 21, 171.5, 1e5)) put("logGamma", x, lgamma(x))
for (a in c(0.02, 0.5, 3, 40, 1e3, 1e5)) for (r in c(0.01, 0.5, 0.9, 1, 1.1, 2)) {
  if (pgamma(a * r, a) > 1e-280) put("gammaP", c(a, a * r), pgamma(a * r, a))
  if (pgamma(a * r, a, lower.tail = FALSE) > 1e-280) put("gammaQ", c(a, a * r), pgamma(a * r, a, lower.tail = FALSE))
}
for (a in c(0.5, 1, 7, 100, 5e4)) for (p in c(1e-10, 0.05, 0.5, 0.95, 1 - 1e-9)) put("gammaQuantile", c(p, a, 2), qgamma(p, a, scale = 2))
for (df in c(1, 2, 3, 24, 26)) for (p in c(0.05, 0.5, 0.9, 0.95, 0.975)) put("chiSquareQuantile", c(p, df), qchisq(p, df))
for (df in c(1, 2, 10)) for (x in c(1e-6, 0.5, 3.84, 40)) put("chiSquareCdf", c(x, df), pchisq(x, df))
for (x in c(1e-8, 0.01, 0.3, 0.7, 0.999)) for (ab in list(c(0.5, 0.5), c(2, 9), c(30, 4), c(1000, 3000))) {
  v <- pbeta(x, ab[1], ab[2]); if (v > 1e-280) put("betaCdf", c(x, ab), v)
}
for (x in c(-37, -20, -8.5, -3, -1e-5, 0, 1, 5, 8)) put("normalCdf", x, pnorm(x))
for (p in c(1e-300, 1e-20, 1e-5, 0.02, 0.3, 0.5, 0.7, 0.975, 1 - 1e-10)) put("normalQuantile", p, qnorm(p))
for (z in c(-40, -5, -0.5, 0, 2, 12, 29.9, 30.1, 45, 300)) put("logNormalTail", z, pnorm(z, lower.tail = FALSE, log.p = TRUE))
for (m in c(1e-3, 0.8, 17.3, 400, 1e5)) for (s in c(-6, -2, 0, 1, 5)) {
  k <- max(0, floor(m + s * sqrt(m))); put("poissonCdf", c(k, m), ppois(k, m)); put("poissonPmf", c(k, m), dpois(k, m))
}
for (m in c(0.2, 6, 1e5)) for (p in c(0.01, 0.5, 0.95, 0.9999)) put("poissonQuantile", c(p, m), qpois(p, m))
for (mv in list(c(0.5, 0.6), c(8, 32), c(20, 20.1), c(300, 5000), c(1e5, 3e5))) for (s in c(-1.5, 0, 1, 4)) {
  m <- mv[1]; v <- mv[2]; size <- m^2 / (v - m); k <- max(0, floor(m + s * sqrt(v)))
  put("negativeBinomialPmf", c(k, m, v), dnbinom(k, size = size, prob = m / v))
  put("negativeBinomialCdf", c(k, m, v), pnbinom(k, size = size, prob = m / v))
}
for (p in c(0.05, 0.9, 0.999)) put("negativeBinomialQuantile", c(p, 8, 32), qnbinom(p, size = 64 / 24, prob = 0.25))
for (q in list(c(0, 10, 0.1), c(3, 10, 0.1), c(200, 1000, 0.2), c(1e5, 1e6, 0.1), c(10, 10, 0.3))) put("binomialPmf", q, dbinom(q[1], q[2], q[3]))
cat("[\n", paste(unlist(rows), collapse = ",\n"), "\n]\n", sep = "")
