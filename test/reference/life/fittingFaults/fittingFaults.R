# Fitting faults beside wear-out by direct maximisation: S(t) = [1 - p Fe(t)] Sw(t), both laws Weibull, lives with whole-day and wide
# intervals, exact ages, delayed entry and counts. "estimated": eight leaks before 60 days, all five parameters free. "prior": two
# such leaks, share under its normal prior on the log axis (median 0.01, sd 0.9375), law of early leaks held at 0.8 / 10. optim, then
# Newton with differences. Run: Rscript fittingFaults.R > fittingFaults.json
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
day <- function(d) c(max(d - 0.5, 0), if (d == 0) 1 else d + 0.5)
early <- t(sapply(c(0, 1, 1, 3, 4, 9, 17, 44), day))
late <- t(sapply(c(150, 301, 344, 398, 402, 433, 455, 480, 512, 520, 533, 577, 590, 612, 640, 655, 689, 702), day))
lower <- c(early[, 1], late[, 1], 6, 470, 0, 300, 730, 365, 500, 620, 700, 730, 30)
upper <- c(early[, 2], late[, 2], 6, 470, 100, 420, rep(Inf, 7))
entry <- c(rep(0, 7), 20, rep(0, 10), 100, 100, 300, 300, 30, 30, 5, 5, 0, 0, 0, 200, 0, 0, 100, 30, 5, 300, 0)
count <- c(rep(1, 26), 1, 1, 1, 1, 40, 60, 30, 25, 20, 15, 3)
Fe <- function(p, t) -expm1(-(t / exp(p[5]))^exp(p[4]))
q <- function(p, t) 1 - exp(p[3]) * Fe(p, t)
S <- function(p, t) q(p, t) * exp(-(t / exp(p[2]))^exp(p[1]))
density <- function(p, t) q(p, t) * dweibull(t, exp(p[1]), exp(p[2])) + exp(p[3]) * dweibull(t, exp(p[4]), exp(p[5])) * exp(-(t / exp(p[2]))^exp(p[1]))
logLik <- function(p, use) {
  a <- pmax(lower, entry)[use]; b <- upper[use]; e <- entry[use]; n <- count[use]
  chance <- ifelse(b == Inf, S(p, a), ifelse(a == b, density(p, a), S(p, a) - S(p, ifelse(b == Inf, a, b))))
  sum(n * log(chance / S(p, e)))
}
top <- function(cost, p) {
  for (k in 1:8) p <- optim(p, cost, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(reltol = 1e-15, maxit = 5000))$par
  n <- length(p)
  slope <- function(p, d = 2e-3) sapply(1:n, function(j) { e <- replace(numeric(n), j, d); (8 * (cost(p + e) - cost(p - e)) - (cost(p + 2 * e) - cost(p - 2 * e))) / (12 * d) })
  bend <- function(p, d = 4e-3) { m <- sapply(1:n, function(j) { e <- replace(numeric(n), j, d); (8 * (slope(p + e) - slope(p - e)) - (slope(p + 2 * e) - slope(p - 2 * e))) / (12 * d) }); (m + t(m)) / 2 }
  for (k in 1:4) p <- p - solve(bend(p), slope(p))
  list(p = p, se = sqrt(diag(solve(bend(p)))))
}
case <- function(use, cost, p) {
  found <- top(cost, p)
  full <- c(found$p, log(0.8), log(10))[1:5]
  obj(list(lower = num(lower[use]), upper = num(upper[use]), entry = num(entry[use]), count = num(count[use]),
    parameters = num(found$p), standardErrors = num(found$se), logLikelihood = sprintf("%.15g", logLik(full, use))))
}
all <- seq_along(lower)
estimated <- case(all, function(p) if (p[3] >= 0) 1e10 else -logLik(p, all), c(log(3), log(1000), log(0.04), log(0.8), log(8)))
few <- setdiff(all, c(1, 2, 3, 4, 5, 7, 27))
held <- c(log(0.8), log(10))
prior <- case(few, function(p) if (p[3] >= 0) 1e10 else -logLik(c(p, held), few) + 0.5 * ((p[3] - log(0.01)) / 0.9375)^2, c(log(3), log(1000), log(0.02)))
cat("{\n\"estimated\":", estimated, ",\n\"prior\":", prior, "\n}\n", sep = "")
