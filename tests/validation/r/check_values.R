# Known data sets refitted in R, to more digits than their sources print.
#   Rscript check_values.R   (in this folder; rewrites check_values.csv)
library(survival)
source("likelihood.R")

out <- NULL
put <- function(source, family, name, value)
  out <<- rbind(out, data.frame(source = source, family = family, name = name, value = value))
put_fit <- function(source, family, fit) {
  for (i in seq_along(fit$coef)) put(source, family, paste0("b", i - 1), fit$coef[[i]])
  put(source, family, "sigma", fit$scale)
  put(source, family, "loglik", tail(fit$loglik, 1))
  v <- vcov(fit)
  for (i in seq_along(fit$coef)) put(source, family, paste0("var_b", i - 1), v[i, i])
}
survreg_as <- function(family) if (family == "normal") "gaussian" else family

nist <- c(54, 187, 216, 240, 244, 335, 361, 373, 375, 386, rep(500, 10))
for (f in names(families)) put_fit("nist-8.4.1", f, survreg(
  Surv(nist, rep(1:0, each = 10)) ~ 1, dist = f, control = strict()))

for (f in names(families)) put_fit("aml", f, survreg(
  Surv(time, status) ~ x, data = aml, dist = f, control = strict()))
put("aml", "", "logrank", survdiff(Surv(time, status) ~ x, data = aml)$chisq)

for (f in names(families)) put_fit("ovarian", f, survreg(
  Surv(futime, fustat) ~ ecog.ps + rx, data = ovarian, dist = f, control = strict()))

put_fit("tobin", "normal", survreg(Surv(durable, durable > 0, type = "left") ~ age + quant,
  data = tobin, dist = "gaussian", control = strict()))

for (f in names(families)) put_fit("capacitor", f, survreg(
  Surv(time, status) ~ voltage + factor(temperature), data = capacitor, dist = f,
  control = strict()))

lower <- c(95, 100, 105, 110, 0, 120, 98)
upper <- c(96, 101, 107, Inf, 90, 120, 98)
for (f in names(families)) put_fit("mixed", f, survreg(
  interval2(lower, upper) ~ 1, dist = f, control = strict()))

a <- c(41.2, 47.9, 44.3, 52.6, 39.8, 46.1, 49.5, 43.7, 45.0, 50.4)
b <- c(61.3, 55.8, 70, 66.4, 70, 58.9, 63.2, 48.5, 70, 67.7)
over <- c(0, 0, 1, 0, 1, 0, 0, 1, 1, 0) == 1
ga <- data.frame(lower = a, upper = a)
gb <- data.frame(lower = b, upper = ifelse(over, Inf, b))
for (f in names(families)) {
  limits <- ratio_interval(ga, gb, families[[f]])
  for (name in names(limits)) put("two-groups", f, name, limits[[name]])
}
put("two-groups", "", "logrank", survdiff(
  Surv(c(a, b), c(rep(TRUE, 10), !over)) ~ rep(1:2, each = 10))$chisq)

gehan <- MASS::gehan
put("gehan", "", "logrank", survdiff(Surv(time, cens) ~ treat, data = gehan)$chisq)
held <- summary(survfit(Surv(time, cens) ~ 1, data = subset(gehan, treat == "6-MP")))
for (i in seq_along(held$time)) put("gehan", "", paste0("held_", held$time[i]), held$surv[i])

# Chance that one piece of B beats one of A: numerical integral over A's law.
chance <- function(f, ma, sa, mb, sb) {
  fam <- families[[f]]
  q <- switch(f, lognormal = qnorm, loglogistic = qlogis, weibull = function(p) log(-log1p(-p)))
  integrate(function(p) exp(fam$logsf((ma + sa * q(p) - mb) / sb)), 0, 1, rel.tol = 1e-12,
    subdivisions = 2000)$value
}
for (f in names(families)) {
  fa <- mle(ga$lower, ga$upper, families[[f]])
  fb <- mle(gb$lower, gb$upper, families[[f]])
  put("two-groups", f, "chance", chance(f, fa$mu, fa$sigma, fb$mu, fb$sigma))
}

# One-sided tolerance factors from R's own noncentral t.
factor_k <- function(n, p, confidence)
  qt(confidence, n - 1, ncp = qnorm(p) * sqrt(n)) / sqrt(n)
for (n in c(3, 5, 10, 20, 30)) for (conf in c(0.75, 0.95))
  put("tolerance", "normal", paste0("k_", n, "_95_", 100 * conf), factor_k(n, 0.95, conf))
put("tolerance", "normal", "k_43_90_99", factor_k(43, 0.90, 0.99))
# Holm's adjustment, by R's own p.adjust.
for (i in 1:3) {
  p <- list(c(0.012, 0.2, 0.0031), c(0.04, 0.03, 0.02, 0.01, 0.5), c(0.0249, 0.0249))[[i]]
  adjusted <- p.adjust(p, "holm")
  for (j in seq_along(p)) {
    put("holm", i, paste0("p_", j), p[j])
    put("holm", i, paste0("adjusted_", j), adjusted[j])
  }
}
record(out, "check_values.csv")
