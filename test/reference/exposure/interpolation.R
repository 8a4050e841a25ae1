# Counters between readings by approx() of R (stats), a straight line; and by hand-made days in use where a position is idle.
# Run: Rscript interpolation.R > interpolation.json
days <- c(12, 40, 41, 130, 220, 221, 400, 401, 655, 1000)
value <- c(3, 210, 260, 1804, 3600.5, 3601, 9100, 9151, 17500, 26007)
from <- c(12, 13, 39, 40, 41, 100, 220, 221, 222, 399, 402, 654, 655, 999)
to <- c(1000, 41, 40, 41, 130, 221, 400, 655, 223, 402, 1000, 656, 1000, 1000)
line <- function(x, y, at) approx(x, y, xout = at, ties = "ordered")$y

# Idle from day 60 to 100 and from day 300 to 390: the clock of use stands still there.
use <- function(day) day - pmin(pmax(day - 60, 0), 40) - pmin(pmax(day - 300, 0), 90)

number <- function(x) paste0("[", paste(format(x, digits = 17), collapse = ", "), "]")
out <- c(
  "{",
  paste0('  "days": ', number(days), ","),
  paste0('  "value": ', number(value), ","),
  paste0('  "from": ', number(from), ","),
  paste0('  "to": ', number(to), ","),
  '  "idle": [[60, 100], [300, 390]],',
  paste0('  "plain": ', number(line(days, value, to) - line(days, value, from)), ","),
  paste0('  "inUse": ', number(line(use(days), value, use(to)) - line(use(days), value, use(from)))),
  "}"
)
target <- commandArgs(trailingOnly = TRUE)
writeLines(out, if (length(target) > 0) target[1] else stdout())
