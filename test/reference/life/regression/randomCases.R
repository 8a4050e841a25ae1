# Two hundred small regressions by R's survreg on lives that the test draws again itself: a linear congruential generator gives the
# same numbers here and there, so that no data are kept. Ages are in units from 1e-9 to 1e12, columns too; rows are exact, sound,
# before an age or between two, with counts from 1 to 3. A case that survreg does not settle is null.
# Run: Rscript randomCases.R > randomCases.json
suppressMessages(library(survival))
kinds <- c("weibull", "exponential", "lognormal", "loglogistic")
one <- function(k) {
  state <- 1000 + k
  draw <- function() { state <<- (16807 * state) %% 2147483647; state / 2147483647 }
  for (i in 1:10) draw()
  rows <- 30 + floor(40 * draw())
  levels <- 2 + k %% 6
  unit <- 10^(k %% 22 - 9)
  size <- 10^((7 * k) %% 22 - 9)
  shape <- exp(2 * draw() - 0.5)
  lower <- upper <- x <- count <- numeric(rows)
  level <- integer(rows)
  for (i in 1:rows) {
    load <- 2 * draw() - 1
    level[i] <- (i - 1) %% levels
    life <- 1000 * exp(0.5 * load + 0.2 * level[i]) * (-log(draw()))^(1 / shape)
    how <- floor(5 * draw())
    # A third of the cases without intervals, where Weibull likelihoods are sums by level.
    if (k %% 3 == 0) how <- how %% 3
    lower[i] <- c(1, 1, 0.7, 0, 0.8)[how + 1] * life * unit
    upper[i] <- c(1, 1, NA, 1.4, 1.3)[how + 1] * life * unit
    if (how == 3) lower[i] <- NA
    x[i] <- load * size
    count[i] <- 1 + floor(3 * draw())
  }
  f <- factor(level)
  fit <- try(withCallingHandlers(survreg(Surv(lower, upper, type = "interval2") ~ x + f, weights = count, dist = kinds[k %% 4 + 1],
    control = survreg.control(rel.tolerance = 1e-13, maxiter = 500)), warning = function(w) stop("not settled")), silent = TRUE)
  if (inherits(fit, "try-error")) return("null")
  spread <- if (k %% 4 == 1) NULL else log(fit$scale)
  beta <- c(coef(fit), spread)
  beta[2] <- beta[2] * size
  beta[1] <- beta[1] - log(unit)
  error <- sqrt(diag(fit$var))
  error[2] <- error[2] * size
  paste0("[", paste(sprintf("%.10g", c(beta, error)), collapse = ","), "]")
}
cat("[\n", paste(sapply(1:200, one), collapse = ",\n"), "\n]\n", sep = "")
