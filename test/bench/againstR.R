# Times of survreg on the lives that againstR.ts wrote: a folder with <name>.time and <name>.failed as little-endian
# doubles. Prints name, least elapsed seconds and least seconds of the processor of three runs.
library(survival)
folder <- commandArgs(trailingOnly = TRUE)[1]
column <- function(name) {
  file <- file.path(folder, name)
  readBin(file, "double", n = file.size(file) / 8)
}
lives <- function(name) Surv(column(paste0(name, ".time")), column(paste0(name, ".failed")))
least <- function(run) {
  times <- sapply(1:3, function(i) system.time(run())[c("elapsed", "user.self", "sys.self")])
  c(min(times[1, ]), min(times[2, ] + times[3, ]))
}
fit <- function(y) function() survreg(y ~ 1, dist = "weibull")
of <- function(name) column(paste0("regression.", name))
y <- lives("regression")
line <- factor(of("level"))
temperature <- of("temperature")
cat("regression", least(function() survreg(y ~ line + temperature, dist = "weibull")), "\n")
cat("days", least(fit(lives("days"))), "\n")
cat("seconds", least(fit(lives("seconds"))), "\n")
y <- lives("few")
set.seed(1)
cat("few", least(function() for (i in 1:1000) {
  again <- sample(length(y), replace = TRUE)
  survreg(y[again] ~ 1, dist = "weibull")
}), "\n")
