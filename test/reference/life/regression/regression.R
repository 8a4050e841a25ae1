# Accelerated failure time regressions by R's survival package (survreg) on data sets it ships, and lives with delayed entry, which
# survreg does not take, by optim on the likelihood written out here. Each case holds its data, so that the test needs no R.
# Run: Rscript regression.R > regression.json
suppressMessages(library(survival))
num <- function(x) paste0("[", paste(ifelse(is.finite(x), sprintf("%.15g", x), ifelse(x > 0, "1e999", "-1e999")), collapse = ","), "]")
txt <- function(x) paste0("[", paste(sprintf('"%s"', x), collapse = ","), "]")
col <- function(x) if (is.numeric(x)) num(x) else txt(as.character(x))
obj <- function(a) paste0("{", paste(sprintf('"%s":%s', names(a), unlist(a)), collapse = ","), "}")
cols <- function(d) obj(lapply(as.list(d), col))
case <- function(kind, lower, upper, covariates, coef, var, loglik, options = "{}", entry = 0 * lower, count = 0 * lower + 1, cluster = NULL) {
  a <- list(kind = sprintf('"%s"', kind), lower = num(lower), upper = gsub("1e999", "null", num(upper)), entry = num(entry), count = num(count),
    covariates = cols(covariates), options = options, coefficients = num(coef), covariance = num(as.vector(var)), logLikelihood = sprintf("%.15g", loglik))
  if (!is.null(cluster)) a$cluster <- num(as.integer(factor(cluster)))
  obj(a)
}
dists <- c(weibull = "weibull", exponential = "exponential", lognormal = "lognormal", loglogistic = "loglogistic")
tight <- survreg.control(rel.tolerance = 1e-13, maxiter = 200)
# A fit as a case: `covariates` are the columns as our library takes them.
reg <- function(formula, data, kind, lower, upper, covariates, options = "{}", weights = NULL, cluster = NULL) {
  data <- data.frame(data)
  fit <- do.call(survreg, list(formula, data, dist = kind, control = tight, weights = weights, cluster = cluster, robust = !is.null(cluster)))
  spread <- if (kind == "exponential") NULL else log(fit$scale)
  list(fit = fit, coef = c(coef(fit), spread), kind = kind, lower = lower, upper = upper, covariates = covariates, options = options)
}
as_case <- function(r, ...) case(r$kind, r$lower, r$upper, r$covariates, r$coef, r$fit$var, r$fit$loglik[2], r$options, ...)
sound <- function(time, failed) ifelse(failed, time, Inf)

l <- lung[!is.na(lung$ph.ecog), ]
l$sex <- ifelse(l$sex == 1, "male", "female")
l$dead <- l$status == 2
lungs <- l[c("age", "sex", "ph.ecog")]
lung_weibull <- as_case(reg(Surv(time, dead) ~ age + sex + ph.ecog, l, "weibull", l$time, sound(l$time, l$dead), lungs))
lung_interaction <- as_case(reg(Surv(time, dead) ~ age + sex + ph.ecog + age:sex, l, "lognormal", l$time, sound(l$time, l$dead), lungs,
  '{"interactions":[["age","sex"]]}'))
lung_spreads <- as_case(reg(Surv(time, dead) ~ age + sex + ph.ecog + strata(sex), l, "weibull", l$time, sound(l$time, l$dead), lungs, '{"shapeBy":["sex"]}'))
# Deaths known to the month only, those of the first month left-censored.
lo <- floor(l$time / 30) * 30
lower <- ifelse(l$dead, lo, l$time)
upper <- ifelse(l$dead, lo + 30, Inf)
lung_months <- as_case(reg(Surv(ifelse(lower == 0, NA, lower), ifelse(upper == Inf, NA, upper), type = "interval2") ~ age + sex, l, "loglogistic",
  lower, upper, l[c("age", "sex")]))
lung_months_normal <- as_case(reg(Surv(ifelse(lower == 0, NA, lower), ifelse(upper == Inf, NA, upper), type = "interval2") ~ age + sex, l, "lognormal",
  lower, upper, l[c("age", "sex")]))
o <- ovarian
ovarian_exponential <- as_case(reg(Surv(futime, fustat) ~ age + rx, o, "exponential", o$futime, sound(o$futime, o$fustat == 1), o[c("age", "rx")]))
v <- veteran
v$celltype <- as.character(v$celltype)
veterans <- v[c("celltype", "karno", "trt")]
veteran_loglogistic <- as_case(reg(Surv(time, status) ~ celltype + karno + trt, v, "loglogistic", v$time, sound(v$time, v$status == 1), veterans))
n <- rep(1:4, length.out = nrow(v))
veteran_counts <- as_case(reg(Surv(time, status) ~ celltype + karno + trt, v, "weibull", v$time, sound(v$time, v$status == 1), veterans, weights = n), count = n)
k <- kidney
k$sex <- ifelse(k$sex == 1, "male", "female")
kidney_robust <- as_case(reg(Surv(time, status) ~ age + sex, k, "weibull", k$time, sound(k$time, k$status == 1), k[c("age", "sex")], cluster = k$id),
  cluster = k$id)
d <- diabetic
d$laser <- as.character(d$laser)
d$trt <- ifelse(d$trt == 1, "treated", "eye kept")
eyes <- d[c("trt", "age", "laser")]
diabetic_robust <- as_case(reg(Surv(time, status) ~ trt + age + laser + strata(laser), d, "lognormal", d$time, sound(d$time, d$status == 1), eyes,
  '{"shapeBy":["laser"]}', cluster = d$id), cluster = d$id)
# Every 4th life three times: as a count to us, row by row to R, whose robust variance leaves weights out.
w <- rep(c(1, 1, 1, 3), length.out = nrow(rats))
rows <- rats[rep(seq_along(w), w), ]
many <- survreg(Surv(time, status) ~ rx + sex, rows, dist = "loglogistic", control = tight, cluster = litter, robust = TRUE)
rats_robust <- case("loglogistic", rats$time, sound(rats$time, rats$status == 1), rats[c("rx", "sex")], c(coef(many), log(many$scale)), many$var,
  many$loglik[2], count = w, cluster = rats$litter)
# Several covariates, strata and positions at once: serious infections by patient (gaps between them), and kidney catheters.
q <- cgd
q$gap <- q$tstop - q$tstart
q$treat <- ifelse(q$treat == "placebo", "placebo", "interferon")
q$inherit <- as.character(q$inherit)
q$late <- q$enum > 1
q$nth <- ifelse(q$late, "later", "first")
infections <- q[c("treat", "inherit", "age", "steroids", "nth")]
cgd_strata <- as_case(reg(Surv(gap, status) ~ treat + inherit + age + steroids + nth + strata(nth), transform(q, inherit = factor(inherit, c("X-linked", "autosomal"))),
  "weibull", q$gap, sound(q$gap, q$status == 1), infections, '{"shapeBy":["nth"]}', cluster = q$id), cluster = q$id)
k2 <- k
k2$disease <- as.character(k2$disease)
kidney_strata <- as_case(reg(Surv(time, status) ~ age + disease + sex + strata(sex), k2, "loglogistic", k2$time, sound(k2$time, k2$status == 1),
  k2[c("age", "disease", "sex")], '{"shapeBy":["sex"]}', cluster = k2$id), cluster = k2$id)
# A factor of seven levels, whose levels the search takes as locations.
rt <- rats
rt$group <- paste0("g", rt$litter %% 7)
rats_levels <- as_case(reg(Surv(time, status) ~ group + rx, rt, "lognormal", rt$time, sound(rt$time, rt$status == 1), rt[c("group", "rx")],
  '{"failuresPerCoefficient":0}', cluster = rt$litter), cluster = rt$litter)
b <- tobin
tobin_left <- as_case(reg(Surv(exp(durable), durable > 0, type = "left") ~ age + quant, b, "lognormal", ifelse(b$durable > 0, exp(b$durable), 0),
  exp(b$durable), b[c("age", "quant")], '{"failuresPerCoefficient":0}'))
m <- imotor
m$x <- 1 / (8.617333262145179e-5 * (m$temp + 273.15))
m$y <- 1 / (8.31446261815324e-3 * (m$temp + 273.15))
motor_electronvolt <- as_case(reg(Surv(time, status) ~ x, m, "lognormal", m$time, sound(m$time, m$status == 1), data.frame(temperature = m$temp),
  '{"transforms":{"temperature":{"arrhenius":"eV"}}}'))
motor_kilojoule <- as_case(reg(Surv(time, status) ~ y, m, "weibull", m$time, sound(m$time, m$status == 1), data.frame(temperature = m$temp),
  '{"transforms":{"temperature":"arrhenius"}}'))
f <- ifluid
fluid_power <- as_case(reg(Surv(time) ~ log(voltage), f, "weibull", f$time, f$time, data.frame(voltage = f$voltage), '{"transforms":{"voltage":"power"}}'))

# Delayed entry: watched from the age at diagnosis on.
g <- mgus
g <- g[!is.na(g$hgb), ]
entry <- g$age
exit <- g$age + g$futime / 365.25
X <- cbind(1, g$sex == "male", g$hgb - 13)
truncated <- function(kind) {
  S <- if (kind == "weibull") function(z) -exp(z) else function(z) pnorm(z, lower.tail = FALSE, log.p = TRUE)
  h <- if (kind == "weibull") exp else function(z) exp(dnorm(z, log = TRUE) - S(z))
  slope <- if (kind == "weibull") function(z) 1 - exp(z) else function(z) -z
  value <- function(p) {
    s <- exp(p[4]); eta <- X %*% p[1:3]
    z <- (log(exit) - eta) / s; e <- (log(entry) - eta) / s
    sum(ifelse(g$death == 1, log(h(z)) + S(z) - p[4] - log(exit), S(z)) - S(e))
  }
  gradient <- function(p) {
    s <- exp(p[4]); eta <- X %*% p[1:3]
    z <- (log(exit) - eta) / s; e <- (log(entry) - eta) / s
    one <- ifelse(g$death == 1, slope(z), -h(z))
    c(-t(X) %*% ((one + h(e)) / s), sum(-one * z - (g$death == 1) - h(e) * e))
  }
  p <- optim(c(4.4, 0, 0, -2), value, gradient, method = "BFGS", control = list(fnscale = -1, reltol = 1e-15, maxit = 5000))$par
  hessian <- function(p) optimHess(p, value, gradient, control = list(ndeps = rep(1e-5, 4)))
  for (i in 1:8) p <- as.vector(p - solve(hessian(p), gradient(p)))
  options <- '{}'
  case(kind, exit, sound(exit, g$death == 1), data.frame(male = as.numeric(g$sex == "male"), hgb = g$hgb - 13), p, solve(-hessian(p)), value(p), options, entry = entry)
}
late_weibull <- truncated("weibull")
late_lognormal <- truncated("lognormal")

# What a fit says beyond its coefficients: quantiles with bounds, and the likelihood-ratio test, of lung_weibull.
fit <- survreg(Surv(time, dead) ~ age + sex + ph.ecog, l, dist = "weibull", control = tight)
less <- survreg(Surv(time, dead) ~ age + sex, l, dist = "weibull", control = tight)
new <- data.frame(age = 60, sex = "male", ph.ecog = 1)
p <- c(0.1, 0.5, 0.9)
u <- predict(fit, new, type = "uquantile", p = p, se.fit = TRUE)
z <- qnorm(0.95)
test <- anova(less, fit)
beyond <- obj(list(p = num(p), age = num(exp(u$fit)), low = num(exp(u$fit - z * u$se.fit)), high = num(exp(u$fit + z * u$se.fit)),
  statistic = sprintf("%.15g", test$Deviance[2]), df = test$Df[2], pValue = sprintf("%.15g", test[["Pr(>Chi)"]][2])))

cases <- list(lungWeibull = lung_weibull, lungInteraction = lung_interaction, lungSpreads = lung_spreads, lungMonths = lung_months, lungMonthsNormal = lung_months_normal,
  ovarianExponential = ovarian_exponential, veteranLoglogistic = veteran_loglogistic, veteranCounts = veteran_counts, kidneyRobust = kidney_robust,
  diabeticRobust = diabetic_robust, ratsRobust = rats_robust, cgdStrata = cgd_strata, kidneyStrata = kidney_strata, ratsLevels = rats_levels, tobinLeft = tobin_left, motorElectronVolt = motor_electronvolt, motorKilojoule = motor_kilojoule,
  fluidPower = fluid_power, lateWeibull = late_weibull, lateLognormal = late_lognormal)
cat("{\n\"cases\":{\n", paste(sprintf('"%s":%s', names(cases), unlist(cases)), collapse = ",\n"), "\n},\n\"beyond\":", beyond, "\n}\n", sep = "")
