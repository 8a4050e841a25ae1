# Makes a fleet folder from the valve-seat replacements of 41 diesel engines in the records of Nelson and Doganaksoy
# (1989), as shipped with R's survival package (data set valveSeat: engine, age in days, 1 = a seat replaced or
# 0 = end of watch). Run from this folder: Rscript make.R
#
# Choices, all ours:
# - An engine is one position. It has 16 seats and the records do not say which one was replaced, so every
#   replacement is treated as a renewal of the position: a life is the time from one replacement in an engine to the
#   next. That is the pooled process of 16 seats, not the life of one seat.
# - Two replacements of one engine on one day give a life of 0 days.
# - Every replacement was for a leak; what the seat looked like is not on record.
# - Only ages are on record. Dates are invented: every watch ends on 2000-12-31 and began as many days earlier as it
#   lasted. Size (DN 50) and material are names without meaning.
suppressMessages(library(survival))

until <- as.Date("2000-12-31")
lives <- do.call(rbind, lapply(split(valveSeat, valveSeat$id), function(engine) {
  engine <- engine[order(engine$time, -engine$status), ]
  watched <- max(engine$time)
  stopifnot(sum(engine$status == 0) == 1, engine$status[nrow(engine)] == 0)
  replaced <- engine$time[engine$status == 1]
  start <- until - watched
  data.frame(
    position = paste0("engine-", engine$id[1]),
    material = "valve seat",
    fitted = format(start + c(0, replaced)),
    removed = c(format(start + replaced), ""),
    reason = c(rep("leak", length(replaced)), ""),
    since = format(start)
  )
}))

positions <- unique(lives[c("position", "since")])
names(positions) <- c("position", "in_service_since")
positions <- cbind(position = positions$position, line = "fleet", size = 50, in_service_since = positions$in_service_since)
write.csv(positions, "positions.csv", row.names = FALSE, quote = FALSE)
write.csv(lives[c("position", "material", "fitted", "removed", "reason")], "lives.csv", row.names = FALSE, quote = FALSE)
writeLines(c(
  "{",
  '  "name": "Valve seats of 41 diesel engines",',
  '  "currency": "USD",',
  '  "data_until": "2000-12-31",',
  '  "event": "leak"',
  "}"
), "site.json")

# The Weibull fit of the same lives, days as intervals: (d - 0.5, d + 0.5], day 0 as (0, 1], running ones censored.
removed <- as.Date(ifelse(lives$removed == "", format(until), lives$removed))
days <- as.integer(removed - as.Date(lives$fitted))
failed <- lives$reason == "leak"
lower <- ifelse(failed, ifelse(days == 0, NA, days - 0.5), pmax(days, 0.5))
upper <- ifelse(failed, ifelse(days == 0, 1, days + 0.5), NA)
fit <- survreg(Surv(lower, upper, type = "interval2") ~ 1, dist = "weibull", control = survreg.control(rel.tolerance = 1e-12))
constant <- survreg(Surv(lower, upper, type = "interval2") ~ 1, dist = "exponential", control = survreg.control(rel.tolerance = 1e-12))
shape <- 1 / fit$scale
range90 <- exp(-log(fit$scale) + c(-1, 1) * qnorm(0.95) * sqrt(vcov(fit)["Log(scale)", "Log(scale)"]))
writeLines(sprintf('{
  "source": "R %s, survival %s: survreg of valveSeat turned into intervals by make.R",
  "engines": %d,
  "replacements": %d,
  "running": %d,
  "shape": %.8f,
  "scale": %.6f,
  "logLikelihood": %.8f,
  "logLikelihoodConstantRate": %.8f,
  "shape90Normal": [%.6f, %.6f]
}', paste(R.version$major, R.version$minor, sep = "."), packageVersion("survival"), length(unique(valveSeat$id)),
  sum(failed), sum(!failed), shape, exp(coef(fit)), fit$loglik[1], constant$loglik[1], range90[1], range90[2]), "expected.json")
