# Damage first (Weibull), then a leak after an exponential delay, by direct maximisation: each row's chance by integrate(), optim, then
# Newton with differences; 90 % profile-likelihood bounds by uniroot. Lives leaked, taken out damaged, found sound, seen only
# not to have leaked, damaged or leaked without anyone knowing which, and lives watched from a later age on.
# Run: Rscript delayTime.R > delayTime.json
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
txt <- function(x) paste0("[", paste0('"', x, '"', collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
leaked <- c(420, 515, 560, 610, 640, 655, 690, 705, 760, 820, 845, 930)
damaged <- c(365, 500, 500, 730, 730, 730, 730, 900, 900)
sound <- c(180, 365, 365, 365, 365, 365, 500, 500, 500, 500, 600, 600, 730, 730)
notLeaked <- c(100, 250, 400, 555, 640, 800)
either <- c(580, 730, 910)
state <- rep(c("leaked", "damaged", "sound", "not leaked", "damaged or leaked"), c(12, 9, 14, 6, 3))
age <- c(leaked, damaged, sound, notLeaked, either)
entry <- numeric(length(age)); entry[c(4, 9, 20, 24, 30, 40)] <- c(200, 400, 300, 100, 250, 350)
S <- function(p, t) exp(-(t / exp(p[2]))^exp(p[1]))
J <- function(p, t) if (t == 0) 0 else {
  m <- exp(p[3]); cuts <- seq(0, t, length.out = 3)
  sum(mapply(function(a, b) integrate(function(u) dweibull(u, exp(p[1]), exp(p[2])) * exp(-(t - u) / m), a, b, rel.tol = 1e-11)$value, cuts[-3], cuts[-1]))
}
row <- function(p, s, t, e) log(switch(s, leaked = J(p, t) / exp(p[3]), damaged = J(p, t), sound = S(p, t), "not leaked" = S(p, t) + J(p, t), "damaged or leaked" = 1 - S(p, t))) -
  log(S(p, e) + J(p, e))
cost <- function(p) { v <- try(-sum(mapply(function(s, t, e) row(p, s, t, e), state, age, entry)), silent = TRUE); if (is.numeric(v) && is.finite(v)) v else 1e10 }
p <- c(log(3), log(700), log(150))
for (k in 1:2) p <- optim(p, cost, method = "Nelder-Mead", control = list(reltol = 1e-12, maxit = 2000))$par
slope <- function(f, p, d = 2e-3) sapply(seq_along(p), function(j) { e <- replace(numeric(length(p)), j, d); (8 * (f(p + e) - f(p - e)) - (f(p + 2 * e) - f(p - 2 * e))) / (12 * d) })
bend <- function(f, p, d = 4e-3) { m <- sapply(seq_along(p), function(j) { e <- replace(numeric(length(p)), j, d); (8 * (slope(f, p + e) - slope(f, p - e)) - (slope(f, p + 2 * e) - slope(f, p - 2 * e))) / (12 * d) }); (m + t(m)) / 2 }
for (k in 1:3) p <- p - solve(bend(cost, p), slope(cost, p))
se <- sqrt(diag(solve(bend(cost, p))))
best <- cost(p); drop <- qchisq(0.9, 1) / 2
profile <- function(i, value) {
  f <- function(x) cost(append(x, value, i - 1))
  x <- p[-i]
  for (k in 1:4) x <- x - solve(bend(f, x), slope(f, x))
  f(x) - best - drop
}
ends <- sapply(1:3, function(i) sapply(c(-1, 1), function(side) uniroot(function(v) profile(i, v), sort(p[i] + side * se[i] * c(0.8, 3)), tol = 1e-8)$root))
cat("{\n\"state\":", txt(state), ",\n\"age\":", num(age), ",\n\"entry\":", num(entry), ",\n\"parameters\":", num(p), ",\n\"standardErrors\":", num(se),
  ",\n\"logLikelihood\":", sprintf("%.15g", -best), ",\n\"low\":", num(ends[1, ]), ",\n\"high\":", num(ends[2, ]), "\n}\n", sep = "")
