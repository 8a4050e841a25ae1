# Failure modes by R. "exact": survreg for each mode with the others as censored, and incidence of each mode by integrate() of its
# hazard times the survival of all; beside it survfit with a factor status. "wide": lives with delayed entry that were looked at
# now and then, so that the mode is known and the age only to an interval: the likelihood of all modes together, each row by
# integrate(), its largest value by optim, standard errors by its Hessian. Run: Rscript modes.R > modes.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), "null"), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
arr <- function(a) paste0("[", paste(unlist(a), collapse = ","), "]")
one <- function(x) sprintf("%.15g", x)

exit <- c(3, 8, 15, 21, 40, 95, 130, 180, 210, 244, 260, 288, 301, 330, 345, 365, 365, 365, 365, 372, 390, 401, 420, 433, 450, 480,
  500, 512, 530, 560, 590, 610, 655, 700, 730, 730, 730, 730, 760, 810, 850, 900)
mode <- c(1, 1, 1, 1, 1, 2, 1, 2, 3, 2, 2, 3, 2, 2, 1, 0, 0, 0, 0, 2, 2, 3, 2, 2, 3, 2, 2, 2, 3, 2, 2, 2, 3, 2, 0, 0, 0, 0, 2, 2, 3, 2)
kinds <- c("weibull", "weibull", "lognormal")
fits <- lapply(1:3, function(m) survreg(Surv(exit, mode == m) ~ 1, dist = kinds[m], control = list(rel.tolerance = 1e-13, maxiter = 200)))
mu <- sapply(fits, function(f) unname(coef(f))); sigma <- sapply(fits, function(f) f$scale)
hazard <- function(m, t) if (kinds[m] == "weibull") dweibull(t, 1 / sigma[m], exp(mu[m])) / pweibull(t, 1 / sigma[m], exp(mu[m]), lower = FALSE) else
  dlnorm(t, mu[m], sigma[m]) / plnorm(t, mu[m], sigma[m], lower = FALSE)
logS <- function(m, t) if (kinds[m] == "weibull") pweibull(t, 1 / sigma[m], exp(mu[m]), lower = FALSE, log = TRUE) else
  plnorm(t, mu[m], sigma[m], lower = FALSE, log = TRUE)
total <- function(t) exp(logS(1, t) + logS(2, t) + logS(3, t))
ages <- c(10, 60, 200, 365, 500, 730, 1200)
# Over log age, in pieces: the early mode has a steep hazard at age 0.
incidence <- function(m, t) {
  cuts <- seq(-40, log(t), length.out = 30)
  sum(mapply(function(a, b) integrate(function(u) hazard(m, exp(u)) * total(exp(u)) * exp(u), a, b, rel.tol = 1e-12)$value, cuts[-30], cuts[-1]))
}
aj <- survfit(Surv(exit, factor(mode, 0:3)) ~ 1)
at <- findInterval(ages, aj$time)
exact <- obj(list(exit = num(exit), mode = num(mode), ages = num(ages),
  fits = arr(lapply(1:3, function(m) obj(list(mu = one(mu[m]), logSigma = one(log(sigma[m])), covariance = num(vcov(fits[[m]])), logLikelihood = one(fits[[m]]$loglik[1]))))),
  survival = num(total(ages)),
  incidence = arr(lapply(1:3, function(m) num(sapply(ages, function(t) incidence(m, t))))),
  withoutLaw = arr(lapply(1:3, function(m) num(aj$pstate[at, m + 1])))))

lower <- c(0, 0, 0, 180, 180, 180, 360, 360, 360, 360, 360, 540, 540, 540, 540, 540, 540, 720, 720, 720, 720, 200, 410, 600, 720, 900, 900, 900)
upper <- c(180, 180, 90, 360, 360, 360, 540, 540, 540, 540, 540, 720, 720, 720, 720, 720, 720, 900, 900, 900, 900, 200, 410, 600, Inf, Inf, Inf, Inf)
entry <- c(0, 0, 0, 0, 0, 100, 0, 0, 0, 200, 400, 0, 0, 0, 0, 300, 0, 0, 0, 300, 0, 0, 0, 300, 0, 0, 500, 300)
count <- c(2, 1, 1, 2, 1, 1, 4, 2, 1, 1, 1, 5, 3, 1, 2, 1, 1, 3, 2, 1, 1, 1, 1, 1, 8, 6, 1, 2)
why <- c(1, 2, 1, 1, 2, 1, 2, 1, 2, 2, 1, 2, 1, 2, 2, 2, 1, 2, 1, 2, 2, 1, 2, 2, 0, 0, 0, 0)
H <- function(p, m, t) (t / exp(p[2 * m]))^exp(p[2 * m - 1])
h <- function(p, m, t) exp(p[2 * m - 1]) / t * H(p, m, t)
row <- function(p, i) {
  a <- max(lower[i], entry[i]); b <- upper[i]
  before <- H(p, 1, entry[i]) + H(p, 2, entry[i])
  if (why[i] == 0) return(before - H(p, 1, a) - H(p, 2, a))
  if (a == b) return(log(h(p, why[i], b)) + before - H(p, 1, b) - H(p, 2, b))
  log(integrate(function(t) h(p, why[i], t) * exp(before - H(p, 1, t) - H(p, 2, t)), a, b, rel.tol = 1e-12)$value)
}
cost <- function(p) -sum(count * sapply(seq_along(why), function(i) row(p, i)))
p <- c(log(1.5), log(1500), log(3), log(900))
for (k in 1:6) p <- optim(p, cost, method = if (k %% 2) "Nelder-Mead" else "BFGS", control = list(reltol = 1e-15, maxit = 5000))$par
# Newton with differences of fourth order: optim leaves six digits.
slope <- function(p, d = 1e-3) sapply(1:4, function(j) { e <- replace(numeric(4), j, d); (8 * (cost(p + e) - cost(p - e)) - (cost(p + 2 * e) - cost(p - 2 * e))) / (12 * d) })
bend <- function(p, d = 2e-3) { m <- sapply(1:4, function(j) { e <- replace(numeric(4), j, d); (8 * (slope(p + e) - slope(p - e)) - (slope(p + 2 * e) - slope(p - 2 * e))) / (12 * d) }); (m + t(m)) / 2 }
for (k in 1:3) p <- p - solve(bend(p), slope(p))
wide <- obj(list(lower = num(lower), upper = num(upper), entry = num(entry), count = num(count), mode = num(why), parameters = num(p), logLikelihood = one(-cost(p)),
  standardErrors = num(sqrt(diag(solve(bend(p)))))))
cat("{\n\"exact\":", exact, ",\n\"wide\":", wide, "\n}\n", sep = "")
