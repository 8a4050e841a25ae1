# Leaks that come again at an invented plant of four lines, from definitions written out here and R's survival package. Mean cumulative
# number of leaks by line: survfit with id, robust by position. Leaks expected of a position: the plant's mean cumulative number over the days
# on which it was watched. Lines: binomial or beta-binomial share of the plant's leaks, all terms summed. Rates: pnbinom. Trend of lives:
# Weibull likelihood with entry at 60 days maximised by optim and Newton steps, sandwich by position from differences of the log-likelihood.
# Run: Rscript recurrence.R > recurrence.json
suppressMessages(library(survival))
set.seed(20261)
num <- function(x) paste0("[", paste(ifelse(is.na(x), "null", sprintf("%.15g", x)), collapse = ","), "]")
str <- function(x) paste0("[", paste(sprintf('"%s"', x), collapse = ","), "]")
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
from <- 15000; until <- 18500
n <- c(A = 9, B = 7, C = 12, D = 6)
line <- rep(names(n), n)
P <- length(line)
since <- ifelse(seq_len(P) %% 5 == 0, from + 400 + 10 * seq_len(P), NA)
out <- ifelse(seq_len(P) %% 7 == 3, until - 300 - seq_len(P), NA)
idleFrom <- ifelse(seq_len(P) %% 6 == 2, from + 1500, NA); idleTo <- idleFrom + 200
weak <- ifelse(seq_len(P) %% 4 == 1, 0.55, 1)
faster <- c(A = 1, B = 0.55, C = 1, D = 1.5)[line]
lives <- NULL
for (p in seq_len(P)) {
  day <- if (is.na(since[p])) from - 200 else since[p]
  end <- if (is.na(out[p])) until else out[p]
  repeat {
    life <- max(61, round(rweibull(1, 2.5, 800 * weak[p] * faster[p] * 0.94^((day - from) / 365.25))))
    planned <- 700 + 10 * (p %% 3)
    age <- min(life, planned)
    if (day + age > end) { lives <- rbind(lives, c(p, day, if (is.na(out[p])) NA else end, if (is.na(out[p])) 0 else 3)); break }
    lives <- rbind(lives, c(p, day, day + age, if (life <= planned) 1 else 2))
    day <- day + age
  }
}
lives <- data.frame(p = lives[, 1], fitted = lives[, 2], removed = lives[, 3], why = lives[, 4])
lives <- lives[is.na(lives$removed) | lives$removed > from, ]
first <- pmax(from, since, na.rm = TRUE); last <- pmin(until, out, na.rm = TRUE)
spell <- do.call(rbind, lapply(seq_len(P), function(p)
  if (is.na(idleFrom[p])) data.frame(p = p, a = first[p], b = last[p] + 1)
  else data.frame(p = p, a = c(first[p], idleTo[p] + 1), b = c(idleFrom[p], last[p] + 1))))
spell <- spell[spell$b > spell$a, ]
leak <- lives[lives$why == 1, ]
inside <- sapply(seq_len(nrow(leak)), function(k) any(spell$p == leak$p[k] & leak$removed[k] >= spell$a & leak$removed[k] < spell$b))
leftOut <- sum(!inside); leak <- leak[inside, ]
rows <- do.call(rbind, lapply(seq_len(nrow(spell)), function(s) {
  t <- sort(leak$removed[leak$p == spell$p[s] & leak$removed >= spell$a[s] & leak$removed < spell$b[s]]) + 0.5
  stop <- c(t, spell$b[s])
  data.frame(id = spell$p[s], start = c(spell$a[s], t), stop = stop, event = c(rep(1, length(t)), 0))
}))
fit <- function(d) survfit(Surv(start, stop, event) ~ 1, d, id = id)
z <- qnorm(0.95)
curve <- function(f) {
  k <- f$n.event > 0
  m <- f$cumhaz[k]; w <- z * f$std.chaz[k] / m
  list(day = num(f$time[k] - 0.5), mean = num(m), low = num(m * exp(-w)), high = num(m * exp(w)))
}
plant <- fit(rows)
upTo <- stepfun(plant$time, c(0, plant$cumhaz))
E <- sapply(seq_len(P), function(p) with(spell[spell$p == p, ], sum(upTo(b) - upTo(a))))
N <- sapply(seq_len(P), function(p) sum(leak$p == p))
days <- sapply(seq_len(P), function(p) with(spell[spell$p == p, ], sum(b - a)))
lines <- split(seq_len(P), line)
squares <- chance <- grows <- 0
for (m in lines) for (p in m) {
  s <- E[p] / sum(E[m]); mean <- sum(N[m]) * s
  squares <- squares + (N[p] - mean)^2 / (1 - s); chance <- chance + mean; grows <- grows + mean^2
}
spread <- max(0, (squares - chance) / grows)
pmf <- function(total, share, rho) {
  k <- 0:total
  if (rho <= 1e-9) return(dbinom(k, total, share))
  size <- 1 / rho - 1; a <- size * share; b <- size * (1 - share)
  exp(lchoose(total, k) + lbeta(a + k, b + total - k) - lbeta(a, b))
}
law <- function(m, others) {
  total <- sum(N[c(m, others)]); share <- sum(E[m]) / sum(E[c(m, others)])
  more <- (1 - share)^2 * sum(E[m]^2) + share^2 * sum(E[others]^2)
  rho <- spread * more / (total * share * (1 - share)) / (total - 1)
  own <- sum(N[m]); tails <- function(s) { q <- pmf(total, s, rho); c(sum(q[0:total >= own]), sum(q[0:total <= own])) }
  list(total = total, share = share, own = own, tails = tails, p = min(1, 2 * min(tails(share))))
}
# Lines to hold others against: a quarter of those found (Benjamini and Hochberg at 10 %) leave at a time.
alike <- names(lines)
against <- function(name) unlist(lines[setdiff(alike, name)])
repeat {
  p <- sapply(names(lines), function(l) law(lines[[l]], against(l))$p)
  found <- names(p)[p.adjust(p, "BH") <= 0.1 & names(p) %in% alike]
  found <- found[order(p[found])][seq_len(ceiling(length(found) / 4))]
  left <- setdiff(alike, found)
  if (length(found) == 0 || length(left) < 2 || 2 * sum(E[unlist(lines[left])]) < sum(E)) break
  alike <- left
}
oneLine <- function(name) {
  m <- lines[[name]]; with <- law(m, against(name))
  own <- with$own; share <- with$share; total <- with$total; tails <- with$tails
  tilt <- function(l) 1 / (1 + (1 - share) / share * exp(-l))
  root <- function(i) exp(uniroot(function(l) tails(tilt(l))[i] - 0.05, c(-8, 8), tol = 1e-12)$root)
  years <- sum(days[m]) / 365.25
  relative <- spread * sum(E[m]^2) / sum(E[m])^2
  up <- function(k, mu) if (relative == 0) ppois(k, mu) else pnbinom(k, size = 1 / relative, mu = mu)
  rate <- c(uniroot(function(l) 1 - up(own - 1, exp(l)) - 0.05, c(-5, 8), tol = 1e-12)$root,
            uniroot(function(l) up(own, exp(l)) - 0.05, c(-5, 8), tol = 1e-12)$root)
  mine <- spell[spell$p %in% m, ]
  at <- unlist(lapply(seq_len(nrow(mine)), function(s) { t <- leak$removed[leak$p == mine$p[s] & leak$removed >= mine$a[s] & leak$removed < mine$b[s]] + 0.5
    if (length(t)) (t - mine$a[s]) / (mine$b[s] - mine$a[s]) else NULL }))
  long <- unlist(lapply(seq_len(nrow(mine)), function(s) rep(mine$b[s] - mine$a[s], sum(leak$p == mine$p[s] & leak$removed >= mine$a[s] & leak$removed < mine$b[s]))))
  L <- sum(long * (at - 0.5)) / sqrt(sum(long^2) / 12); H <- -2 * sum(log(at))
  obj(c(list(leaks = own, years = sprintf("%.15g", years), rate = num(c(own / years, exp(rate) / years)),
    expected = sprintf("%.15g", (total - own) * share / (1 - share)), p = sprintf("%.15g", with$p), alike = if (name %in% alike) "true" else "false",
    times = num(c(own * (1 - share) / ((total - own) * share), root(1), root(2))),
    laplace = sprintf("%.15g", 2 * pnorm(-abs(L))), chiSquare = sprintf("%.15g", min(1, 2 * min(pchisq(H, 2 * own), 1 - pchisq(H, 2 * own))))),
    curve = obj(curve(fit(rows[rows$id %in% m, ])))))
}
# Lives from 60 days on; a leak at the middle of its day (that is, its whole age), the rest sound at their age.
end <- ifelse(is.na(lives$removed), until, lives$removed)
age <- end - lives$fitted
entry <- pmax(60, first[lives$p] - lives$fitted)
number <- ave(lives$fitted, lives$p, FUN = rank)
keep <- age > entry
d <- data.frame(p = lives$p, age = age, entry = entry, leak = lives$why == 1, year = (lives$fitted - from) / 365.25, number = number)[keep, ]
trend <- function(x) {
  ll <- function(b) { mu <- b[1] + b[2] * x; s <- exp(b[3]); w <- (log(d$age) - mu) / s; w0 <- (log(d$entry) - mu) / s
    d$leak * (w - b[3]) - exp(w) + exp(w0) }
  f <- optim(c(log(800), 0, -1), function(b) -sum(ll(b)), method = "BFGS", control = list(reltol = 1e-15, maxit = 1000))
  h <- 1e-5
  U <- function(b) sapply(1:3, function(j) { e <- replace(numeric(3), j, h); (ll(b + e) - ll(b - e)) / (2 * h) })
  H <- function(b) sapply(1:3, function(j) { e <- replace(numeric(3), j, h); (colSums(U(b + e)) - colSums(U(b - e))) / (2 * h) })
  b <- f$par
  for (turn in 1:6) b <- b - solve(H(b), colSums(U(b)))
  S <- rowsum(U(b), d$p); I <- solve(-H(b)); V <- I %*% crossprod(S) %*% I
  se <- sqrt(V[2, 2]); s <- b[2]
  num(c(exp(s), exp(s - z * se), exp(s + z * se), 2 * pnorm(-abs(s / se))))
}
nul <- function(x) num(x)
cat("{\n\"fleet\":", obj(list(from = from, until = until, line = str(line), since = nul(since), out = nul(out), idleFrom = nul(idleFrom), idleTo = nul(idleTo),
  position = num(lives$p - 1), fitted = num(lives$fitted), removed = nul(lives$removed), why = num(lives$why))),
  ",\n\"leftOut\":", leftOut, ",\n\"spread\":", sprintf("%.15g", spread), ",\n\"plant\":", obj(curve(plant)),
  ",\n\"lines\":", obj(sapply(names(lines), oneLine, simplify = FALSE)), ",\n\"trends\":", obj(list(date = trend(d$year), number = trend(d$number))), "\n}\n", sep = "")
