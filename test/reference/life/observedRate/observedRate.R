# Occurrences over exposure by age with R's survival package (pyears with tcut) and exact Poisson bounds by poisson.test.
# Run: Rscript observedRate.R > observedRate.json
suppressMessages(library(survival))
entry <- c(0, 0, 0, 0, 0, 0, 120, 250, 400, 400, 600, 0, 300, 0, 500, 0, 200, 1000)
exit <- c(310, 1450, 980, 1500, 860, 860, 700, 1330, 1120, 1500, 1010, 1500, 1390, 760, 1080, 1500, 400, 1275)
failed <- c(1, 1, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 1, 1, 0, 1, 1)
edges <- c(0, 100, 365, 730, 1095, 1461)
age <- tcut(entry, edges)
table <- pyears(Surv(exit - entry, failed) ~ age, scale = 1)
test <- lapply(seq_along(table$event), function(i) poisson.test(round(table$event[i]), table$pyears[i], conf.level = 0.9)$conf.int)
num <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ","), "]")
cat("{\n\"entry\":", num(entry), ",\n\"exit\":", num(exit), ",\n\"failed\":", num(failed), ",\n\"edges\":", num(edges),
  ",\n\"failures\":", num(table$event), ",\n\"atRisk\":", num(table$pyears),
  ",\n\"low\":", num(sapply(test, function(x) x[1])), ",\n\"high\":", num(sapply(test, function(x) x[2])), "\n}\n", sep = "")
