# Random censored data and what R's survival::survreg makes of them.
#   Rscript generated.R      (in this folder; rewrites generated_*.csv)
# Every fit is checked against optim on the likelihood of likelihood.R before it is written down;
# a draw for which no maximum exists is drawn again.
library(survival)
source("likelihood.R")

strength <- function(n, truth, median, sigma) {
  z <- switch(truth, lognormal = rnorm(n), loglogistic = rlogis(n), weibull = log(rexp(n)))
  signif(median * exp(sigma * (z - families[[truth]]$z50)), 5)
}

censor <- function(x, scenario) {
  n <- length(x)
  lower <- upper <- x
  if (scenario %in% c("capped_third", "capped_half")) {
    limit <- signif(quantile(x, if (scenario == "capped_third") 0.67 else 0.5, names = FALSE), 4)
    over <- x > limit
    lower[over] <- limit
    upper[over] <- Inf
  }
  if (scenario == "random_right") {
    over <- runif(n) < 0.35
    lower[over] <- signif(x[over] * runif(sum(over), 0.6, 1), 5)
    upper[over] <- Inf
  }
  if (scenario == "coarse") {
    step <- signif(diff(range(x)) / 4, 2)
    lower <- floor(x / step) * step
    upper <- lower + step
  }
  if (scenario == "at_most") {
    limit <- signif(quantile(x, 0.3, names = FALSE), 4)
    under <- x < limit
    lower[under] <- 0
    upper[under] <- limit
  }
  if (scenario == "mixed") {
    kind <- sample(c("exact", "right", "left", "between"), n, TRUE, c(0.4, 0.25, 0.1, 0.25))
    r <- kind == "right"; l <- kind == "left"; b <- kind == "between"
    lower[r] <- signif(x[r] * runif(sum(r), 0.7, 1), 5); upper[r] <- Inf
    upper[l] <- signif(x[l] * runif(sum(l), 1, 1.3), 5); lower[l] <- 0
    lower[b] <- signif(x[b] * runif(sum(b), 0.8, 1), 5)
    upper[b] <- signif(x[b] * runif(sum(b), 1.001, 1.2), 5)
  }
  data.frame(lower = signif(lower, 12), upper = signif(upper, 12))
}

exists_mle <- function(s) max(s$lower) > min(s$upper)

close_to <- function(x, y, tol) all(abs(x - y) <= tol * (1e-3 + abs(y)))

fit_one <- function(s, fam) {
  fit <- tryCatch(survreg(interval2(s$lower, s$upper) ~ 1, dist = fam$survreg, control = strict()),
    warning = function(w) NULL, error = function(e) NULL)
  if (is.null(fit) || fit$scale > 5 || fit$scale < 1e-3) return(NULL)
  second <- mle(s$lower, s$upper, fam)
  if (!close_to(c(fit$coef, fit$scale), c(second$mu, second$sigma), 2e-5)) return(NULL)
  if (abs(fit$loglik[1] - second$loglik) > 1e-8) return(NULL)
  v <- vcov(fit)
  data.frame(mu = unname(fit$coef), sigma = fit$scale, loglik = fit$loglik[1],
    var_mu = v[1, 1], cov_mu_logsigma = v[1, 2], var_logsigma = v[2, 2])
}

# Wald limits of the ratio from survreg's covariance, with each variance times r/(r - 1) and the
# degrees of freedom of Welch and Satterthwaite, r counting the two-sided readings of a group.
quick <- function(a, b, fa, fb, z50, level = 0.95) {
  side <- function(s, f) {
    r <- sum(s$lower > 0 & is.finite(s$upper))
    k <- z50 * f$sigma
    v <- (f$var_mu + 2 * k * f$cov_mu_logsigma + k^2 * f$var_logsigma) * r / (r - 1)
    c(m = f$mu + k, v = v, df = r - 1)
  }
  x <- side(a, fa); y <- side(b, fb)
  v <- x[["v"]] + y[["v"]]
  df <- v^2 / (x[["v"]]^2 / x[["df"]] + y[["v"]]^2 / y[["df"]])
  reach <- qt(0.5 + level / 2, df) * sqrt(v)
  d <- y[["m"]] - x[["m"]]
  c(quick_lower = exp(d - reach), quick_upper = exp(d + reach),
    quick_p = pt(d / sqrt(v), df, lower.tail = FALSE))
}

scenarios <- c("exact", "capped_third", "capped_half", "random_right", "coarse", "at_most", "mixed")
sizes <- c(4, 5, 6, 8, 10, 15, 25, 60)
set.seed(20240607)
data <- fits <- NULL
id <- 0
for (repeat_no in 1:2) for (scenario in scenarios) for (truth in names(families)) {
  id <- id + 1
  n <- sizes[(id * 3) %% length(sizes) + 1]
  repeat {
    s <- censor(strength(n, truth, signif(10^runif(1, 1, 3.7), 4), runif(1, 0.08, 0.6)), scenario)
    if (!exists_mle(s)) next
    rows <- lapply(names(families), function(f) fit_one(s, families[[f]]))
    if (!any(sapply(rows, is.null))) break
  }
  data <- rbind(data, data.frame(id = id, scenario = scenario, truth = truth, s))
  fits <- rbind(fits, data.frame(id = id, family = names(families), do.call(rbind, rows)))
}

# Corners, written by hand: the smallest and the most lopsided sets that have a maximum.
corners <- list(
  two_exact = list(c(310, 402), c(310, 402)),
  one_exact_under_caps = list(c(250, 300, 300, 310), c(250, Inf, Inf, Inf)),
  one_between_under_caps = list(c(95, 105, 110, 110), c(100, 115, Inf, Inf)),
  no_exact = list(c(0, 0, 48, 52, 40), c(55, 60, Inf, Inf, 50)),
  narrow = list(c(799.5, 812.5, 806.5, 820.5), c(800.5, 813.5, 807.5, 821.5)),
  ties = list(c(50, 50, 50, 60, 60, 70, 70), c(50, 50, 50, 60, 60, Inf, Inf)),
  tiny_loads = list(c(0.0012, 0.0017, 0.0009, 0.002), c(0.0012, 0.0017, 0.0009, Inf)),
  huge_loads = list(c(2.1e7, 1.8e7, 2.6e7, 3e7), c(2.1e7, 1.8e7, 2.6e7, Inf)))
for (name in names(corners)) {
  id <- id + 1
  s <- data.frame(lower = corners[[name]][[1]], upper = corners[[name]][[2]])
  stopifnot(exists_mle(s))
  for (f in names(families)) {
    row <- fit_one(s, families[[f]])
    stopifnot(!is.null(row))
    fits <- rbind(fits, data.frame(id = id, family = f, row))
  }
  data <- rbind(data, data.frame(id = id, scenario = name, truth = "none", s))
}
record(data, "generated_data.csv")
record(fits, "generated_fits.csv")

# Two groups: likelihood-ratio limits of the ratio of medians, each group its own spread; Wald
# ingredients from survreg; log-rank from survdiff where nothing but right-censoring is present.
set.seed(20240608)
data <- results <- NULL
id <- 0
for (scenario in c("exact", "capped_third", "random_right", "coarse", "mixed"))
  for (truth in names(families)) {
  id <- id + 1
  n <- sample(c(5, 7, 10, 20), 2, TRUE)
  repeat {
    median <- signif(10^runif(1, 1, 3.7), 4)
    a <- censor(strength(n[1], truth, median, runif(1, 0.08, 0.3)), scenario)
    b <- censor(strength(n[2], truth, median * runif(1, 0.9, 1.6), runif(1, 0.08, 0.3)), scenario)
    if (!exists_mle(a) || !exists_mle(b)) next
    if (min(sum(a$lower > 0 & is.finite(a$upper)), sum(b$lower > 0 & is.finite(b$upper))) < 2) next
    rows <- lapply(names(families), function(f) {
      fa <- fit_one(a, families[[f]]); fb <- fit_one(b, families[[f]])
      if (is.null(fa) || is.null(fb)) return(NULL)
      limits <- ratio_interval(a, b, families[[f]])
      if (is.null(limits)) return(NULL)
      data.frame(id = id, family = f, t(limits), t(quick(a, b, fa, fb, families[[f]]$z50)))
    })
    if (!any(sapply(rows, is.null))) break
  }
  s <- rbind(data.frame(group = "A", a), data.frame(group = "B", b))
  logrank <- NA
  if (all(s$lower == s$upper | is.infinite(s$upper)))
    logrank <- survdiff(Surv(s$lower, s$upper < Inf) ~ s$group)$chisq
  data <- rbind(data, data.frame(id = id, scenario = scenario, truth = truth, s))
  results <- rbind(results, data.frame(do.call(rbind, rows), logrank = logrank))
}
record(data, "pairs_data.csv")
record(results, "pairs_ratios.csv")

# Regression on two covariates, common scale, all three families and the normal on the raw scale.
set.seed(20240609)
data <- fits <- NULL
for (id in 1:12) {
  truth <- names(families)[(id - 1) %% 3 + 1]
  n <- c(12, 20, 40)[(id + 1) %% 3 + 1]
  scenario <- scenarios[(id - 1) %% 7 + 1]
  repeat {
    x1 <- rep(0:1, length.out = n)
    x2 <- signif(rnorm(n), 4)
    x <- strength(n, truth, signif(10^runif(1, 1, 3.7), 4), runif(1, 0.1, 0.4))
    s <- censor(signif(x * exp(0.2 * x1 - 0.1 * x2), 5), scenario)
    y <- interval2(s$lower, s$upper)
    rows <- lapply(c(names(families), "normal"), function(f) {
      fit <- tryCatch(survreg(y ~ x1 + x2, control = strict(),
        dist = if (f == "normal") "gaussian" else f), warning = function(w) NULL,
        error = function(e) NULL)
      if (is.null(fit)) return(NULL)
      if (f != "normal") {
        fam <- families[[f]]
        again <- maximise(c(fit$coef, log(fit$scale)), function(p)
          loglik(s$lower, s$upper, p[1] + p[2] * x1 + p[3] * x2, exp(p[4]), fam))
        if (abs(again$value - fit$loglik[2]) > 1e-8) return(NULL)
      }
      v <- vcov(fit)
      data.frame(id = id, family = f, b0 = fit$coef[[1]], b1 = fit$coef[[2]], b2 = fit$coef[[3]],
        sigma = fit$scale, loglik = fit$loglik[2], v00 = v[1, 1], v01 = v[1, 2], v02 = v[1, 3],
        v11 = v[2, 2], v12 = v[2, 3], v22 = v[3, 3], v13 = v[2, 4], v33 = v[4, 4])
    })
    if (!any(sapply(rows, is.null))) break
  }
  data <- rbind(data, data.frame(id = id, scenario = scenario, truth = truth, s, x1 = x1, x2 = x2))
  fits <- rbind(fits, do.call(rbind, rows))
}
record(data, "regression_data.csv")
record(fits, "regression_fits.csv")
