# Open data sets of breaking angles and strengths, as shipped in R packages, put through survreg,
# survdiff, survfit and the likelihood of likelihood.R. The data themselves are not written here.
#   Rscript loads.R          (in this folder; rewrites loads.csv; needs lme4 and modeldata)
library(survival)
source("likelihood.R")
data(cake, Pastes, package = "lme4")
data(concrete, package = "modeldata")

out <- NULL
put <- function(case, group, family, name, value)
  out <<- rbind(out, data.frame(case = case, group = group, family = family, name = name,
    value = value))

two_groups <- function(case, a, b) {
  for (f in names(families)) {
    fam <- families[[f]]
    for (group in c("A", "B")) {
      s <- if (group == "A") a else b
      fit <- survreg(interval2(s$lower, s$upper) ~ 1, dist = f, control = strict())
      put(case, group, f, "mu", fit$coef[[1]])
      put(case, group, f, "sigma", fit$scale)
      put(case, group, f, "loglik", fit$loglik[1])
      put(case, group, f, "median", exp(fit$coef[[1]] + fit$scale * fam$z50))
      put(case, group, f, "p5", predict(fit, type = "quantile", p = 0.05)[[1]])
    }
    limits <- ratio_interval(a, b, fam)
    for (name in names(limits)) put(case, "", f, name, limits[[name]])
  }
  s <- rbind(data.frame(g = "A", a), data.frame(g = "B", b))
  if (all(s$lower == s$upper | is.infinite(s$upper))) {
    y <- Surv(s$lower, is.finite(s$upper))
    put(case, "", "", "logrank", survdiff(y ~ s$g)$chisq)
    for (group in c("A", "B")) {
      held <- summary(survfit(y[s$g == group] ~ 1))
      put(case, group, "", "held_points", length(held$time))
      put(case, group, "", "held_area", sum(diff(c(0, held$time)) * c(1, head(held$surv, -1))))
      put(case, group, "", "held_last", tail(held$surv, 1))
    }
  }
}
exactly <- function(x) data.frame(lower = x, upper = x)
capped <- function(x, limit) data.frame(lower = pmin(x, limit), upper = ifelse(x >= limit, Inf, x))
around <- function(x, half) data.frame(lower = x - half, upper = x + half)

put("cake", "", "", "rows", nrow(cake)); put("cake", "", "", "sum", sum(cake$angle))
plain <- cake$angle[cake$recipe == "A"]; other <- cake$angle[cake$recipe == "C"]
two_groups("cake", exactly(plain), exactly(other))
two_groups("cake-capped-35", capped(plain, 35), capped(other, 35))
two_groups("cake-to-the-degree", around(plain, 0.5), around(other, 0.5))
put("cake", "", "", "logrank_all", survdiff(
  Surv(angle, rep(1, nrow(cake))) ~ recipe, data = cake)$chisq)
for (f in c(names(families), "normal")) {
  fit <- survreg(Surv(angle, rep(1, nrow(cake))) ~ I(recipe == "B") + I(recipe == "C") + temp,
    data = cake, dist = if (f == "normal") "gaussian" else f, control = strict())
  for (i in 1:4) put("cake", "", f, paste0("b", i - 1), fit$coef[[i]])
  for (i in 1:4) put("cake", "", f, paste0("var_b", i - 1), vcov(fit)[i, i])
  put("cake", "", f, "reg_sigma", fit$scale); put("cake", "", f, "reg_loglik", fit$loglik[2])
}

put("pastes", "", "", "rows", nrow(Pastes)); put("pastes", "", "", "sum", sum(Pastes$strength))
s <- function(batch) Pastes$strength[Pastes$batch == batch]
two_groups("pastes-E-D", exactly(s("E")), exactly(s("D")))
two_groups("pastes-B-H-capped-61", capped(s("B"), 61), capped(s("H"), 61))
put("pastes", "", "", "logrank_all", survdiff(
  Surv(strength, rep(1, nrow(Pastes))) ~ batch, data = Pastes)$chisq)

month <- concrete[concrete$age == 28, ]
strength <- month$compressive_strength
put("concrete", "", "", "rows", nrow(month)); put("concrete", "", "", "sum", sum(strength))
ash <- month$fly_ash > 0
two_groups("concrete", exactly(strength[!ash]), exactly(strength[ash]))
two_groups("concrete-capped-40", capped(strength[!ash], 40), capped(strength[ash], 40))
record(out, "loads.csv")
cat("lme4", as.character(packageVersion("lme4")), "modeldata",
  as.character(packageVersion("modeldata")), "\n")
