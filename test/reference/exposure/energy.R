# Activation energies and their standard errors by survreg of R's survival: motor insulation (imotor, Nelson & Hahn 1972) and the three
# cells of NIST/SEMATECH 8.4.2.2, in kJ/mol with R = 8.31446261815324 J/mol/K and 273.15.
# Run: Rscript energy.R > energy.json
suppressMessages(library(survival))
gas <- 8.31446261815324e-3
fit <- function(time, status, celsius, dist) {
  x <- 1 / (gas * (celsius + 273.15))
  f <- survreg(Surv(time, status) ~ x, dist = dist, control = survreg.control(rel.tolerance = 1e-13, maxiter = 100))
  c(coef(f)[["x"]], sqrt(vcov(f)["x", "x"]))
}
# imotor comes with survival.
cells <- list(
  c(401, 428, 695, 725, 738),
  c(171, 187, 189, 266, 275, 285, 301, 302, 305, 316, 317, 324, 349, 350, 386, 405, 480, 493, 530, 534, 536, 567, 589, 598, 599, 614,
    620, 650, 668, 685, 718, 795, 854, 917, 926),
  c(24, 42, 92, 93, 141, 142, 143, 159, 181, 188, 194, 199, 207, 213, 243, 256, 259, 290, 294, 305, 392, 454, 502, 696)
)
units <- c(100, 50, 25)
time <- unlist(lapply(1:3, function(k) c(cells[[k]], rep(1000, units[k] - length(cells[[k]])))))
status <- unlist(lapply(1:3, function(k) c(rep(1, length(cells[[k]])), rep(0, units[k] - length(cells[[k]])))))
celsius <- rep(c(85, 105, 125), units)
number <- function(x) paste0("[", paste(format(x, digits = 17), collapse = ", "), "]")
out <- c(
  "{",
  paste0('  "imotorLognormal": ', number(fit(imotor$time, imotor$status, imotor$temp, "lognormal")), ","),
  paste0('  "imotorWeibull": ', number(fit(imotor$time, imotor$status, imotor$temp, "weibull")), ","),
  paste0('  "cellsLognormal": ', number(fit(time, status, celsius, "lognormal"))),
  "}"
)
target <- commandArgs(trailingOnly = TRUE)
writeLines(out, if (length(target) > 0) target[1] else stdout())
