# Likelihood regions of Weibull shape and scale, by grids and one-dimensional searches of base R alone: no contour is walked.
# Writes JSON. Ages in days. Rows of the samples: age, failed (1) or sound (0), how many, age at which watching began.
# Each region is given by its ends in shape and scale, its area on log axes, and the scales on its rim at some shapes.

samples <- list(
  handbook = list(rows = rbind(
    c(16, 1, 1, 0), c(34, 1, 1, 0), c(53, 1, 1, 0), c(75, 1, 1, 0), c(93, 1, 1, 0), c(120, 1, 1, 0), c(100, 0, 3, 0))),
  twoOfTwelve = list(rows = rbind(c(100, 1, 1, 0), c(350, 1, 1, 0), c(365, 0, 10, 0))),
  nearTied = list(rows = rbind(c(300, 1, 1, 0), c(350, 1, 1, 0), c(360, 1, 1, 0), c(365, 0, 40, 0))),
  lateEntry = list(rows = rbind(
    c(400, 1, 2, 200), c(520, 1, 1, 0), c(700, 1, 3, 500), c(300, 0, 20, 100), c(730, 0, 15, 650), c(90, 1, 1, 0))),
  smallUnit = list(rows = rbind(c(2e-9, 1, 1, 0), c(3e-9, 1, 2, 0), c(5e-9, 1, 1, 0), c(4e-9, 0, 6, 0))),
  # Faulty fittings leak by a Weibull of shape 0.8 and scale 10; their share is found anew for every pair of shape and scale.
  faults = list(fault = c(0.8, 10), rows = rbind(
    c(1, 1, 1, 0), c(2, 1, 1, 0), c(3, 1, 1, 0), c(5, 1, 1, 0), c(9, 1, 1, 0), c(14, 1, 1, 0), c(25, 1, 1, 0),
    c(300, 1, 1, 0), c(420, 1, 1, 0), c(500, 1, 1, 0), c(610, 1, 1, 0), c(700, 1, 2, 0), c(830, 1, 1, 0), c(900, 1, 1, 0),
    c(365, 0, 200, 0), c(700, 0, 100, 0))))

logLikelihood <- function(sample, b, e, s = NULL) {
  rows <- sample$rows
  shape <- exp(b)
  t <- rows[, 1]; failed <- rows[, 2]; n <- rows[, 3]; entry <- rows[, 4]
  H <- function(t) ifelse(t > 0, exp(shape * (log(t) - e)), 0)
  if (is.null(sample$fault)) {
    logHazard <- b + (shape - 1) * log(t) - shape * e
    return(sum(n * (failed * logHazard - H(t) + H(entry))))
  }
  share <- exp(s)
  k <- sample$fault[1]; a <- sample$fault[2]
  early <- 1 - exp(-(t / a)^k)
  density <- k / a * (t / a)^(k - 1) * exp(-(t / a)^k)
  logSurvival <- log1p(-share * early) - H(t)
  hazard <- share * density / (1 - share * early) + exp(b + (shape - 1) * log(t) - shape * e)
  sum(n * (failed * log(hazard) + logSurvival))
}

# Best over the share; without faults the likelihood itself.
profile <- function(sample, b, e) {
  if (is.null(sample$fault)) return(logLikelihood(sample, b, e))
  optimize(function(s) logLikelihood(sample, b, e, s), c(log(1e-6), log(0.5)), maximum = TRUE, tol = 1e-10)$objective
}

# The best scale of a shape lies near the one that gives the oldest lives their share of failures.
bestScale <- function(sample, b, middle, reach) {
  o <- optimize(function(e) profile(sample, b, e), middle + c(-1, 1) * reach, maximum = TRUE, tol = 1e-9)
  c(o$maximum, o$objective)
}

answers <- lapply(samples, function(sample) {
  rows <- sample$rows
  oldest <- max(rows[, 1])
  failures <- sum(rows[, 2] * rows[, 3])
  exposed <- sum(rows[, 3])
  ridge <- function(b) log(oldest) - log(failures / exposed) / exp(b)
  atShape <- function(b) bestScale(sample, b, ridge(b), 3 + 4 / exp(b))
  top <- optimize(function(b) atShape(b)[2], c(log(0.05), log(60)), maximum = TRUE, tol = 1e-9)
  # The search may end in a second hill: begin again from the best of a grid.
  grid <- seq(log(0.05), log(60), length.out = 120)
  values <- sapply(grid, function(b) atShape(b)[2])
  i <- which.max(values)
  top <- optimize(function(b) atShape(b)[2], grid[c(max(1, i - 1), min(120, i + 1))], maximum = TRUE, tol = 1e-10)
  b0 <- top$maximum
  e0 <- atShape(b0)[1]
  regions <- lapply(c(0.5, 0.9), function(level) {
    floor <- top$objective - qchisq(level, 2) / 2
    above <- function(b) atShape(b)[2] - floor
    low <- uniroot(above, c(log(0.01), b0), tol = 1e-12)$root
    high <- uniroot(above, c(b0, log(150)), tol = 1e-12)$root
    rim <- function(b) {
      best <- atShape(b)[1]
      side <- function(sign) {
        reach <- 0.05
        while (profile(sample, b, best + sign * reach) > floor) reach <- 2 * reach
        uniroot(function(x) profile(sample, b, best + sign * x) - floor, c(0, reach), tol = 1e-12)$root
      }
      c(best - side(-1), best + side(1))
    }
    # Widths on the log axis of scale over angles, so that the integral is smooth at both ends (midpoint rule).
    m <- 120
    theta <- (seq_len(m) - 0.5) * pi / m
    b <- (low + high) / 2 - (high - low) / 2 * cos(theta)
    ends <- sapply(b, rim)
    area <- sum((ends[2, ] - ends[1, ]) * (high - low) / 2 * sin(theta)) * pi / m
    lowest <- optimize(function(b) rim(b)[1], c(low + 1e-6, high - 1e-6), tol = 1e-9)$objective
    highest <- optimize(function(b) rim(b)[2], c(low + 1e-6, high - 1e-6), maximum = TRUE, tol = 1e-9)$objective
    some <- c(20, 60, 100)
    list(level = level, shape = exp(c(low, high)), scale = exp(c(lowest, highest)), area = area,
         rim = lapply(some, function(j) list(shape = exp(b[j]), scale = exp(ends[, j]))))
  })
  list(rows = rows, fault = sample$fault, shape = exp(b0), scale = exp(e0), regions = regions)
})

num <- function(x) paste0(ifelse(is.finite(x), format(x, digits = 12), "null"), collapse = ", ")
list_ <- function(x) paste0("[", num(x), "]")
region <- function(r) sprintf('{"level": %s, "shape": %s, "scale": %s, "area": %s, "rim": [%s]}', num(r$level), list_(r$shape),
  list_(r$scale), num(r$area), paste(sapply(r$rim, function(p) sprintf('{"shape": %s, "scale": %s}', num(p$shape), list_(p$scale))), collapse = ", "))
cases <- sapply(names(answers), function(name) {
  a <- answers[[name]]
  sprintf('  "%s": {"rows": [%s], "fault": %s, "shape": %s, "scale": %s, "regions": [\n    %s]}', name,
    paste(apply(a$rows, 1, list_), collapse = ", "), if (is.null(a$fault)) "null" else list_(a$fault),
    num(a$shape), num(a$scale), paste(sapply(a$regions, region), collapse = ",\n    "))
})
text <- paste0("{\n", paste(cases, collapse = ",\n"), "\n}\n")
path <- commandArgs(TRUE)
if (length(path) > 0) cat(text, file = path[1]) else cat(text)
