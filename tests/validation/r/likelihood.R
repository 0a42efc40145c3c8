# Log-likelihood of closed intervals [lower, upper] of load for three log-location-scale families
# and for the normal on the raw scale, written out plainly and maximised by optim: a second
# opinion on survreg, and the only way in R to hold the ratio of medians fixed with a spread of
# its own in each group.

families <- list(
  lognormal = list(survreg = "lognormal", z50 = 0,
    logpdf = function(z) dnorm(z, log = TRUE),
    logcdf = function(z) pnorm(z, log.p = TRUE),
    logsf = function(z) pnorm(z, lower.tail = FALSE, log.p = TRUE)),
  weibull = list(survreg = "weibull", z50 = log(log(2)),
    logpdf = function(z) z - exp(z),
    logcdf = function(z) log(-expm1(-exp(z))),
    logsf = function(z) -exp(z)),
  loglogistic = list(survreg = "loglogistic", z50 = 0,
    logpdf = function(z) dlogis(z, log = TRUE),
    logcdf = function(z) plogis(z, log.p = TRUE),
    logsf = function(z) plogis(z, lower.tail = FALSE, log.p = TRUE)))

# log(exp(a) - exp(b)) for a > b
logdiff <- function(a, b) a + log(-expm1(b - a))

loglik <- function(lower, upper, mu, sigma, fam) {
  zl <- (log(lower) - mu) / sigma
  zu <- (log(upper) - mu) / sigma
  exact <- lower == upper
  right <- is.infinite(upper)
  left <- lower == 0 & !right
  between <- !(exact | right | left)
  between_value <- ifelse(zl[between] > 0,
    logdiff(fam$logsf(zl[between]), fam$logsf(zu[between])),
    logdiff(fam$logcdf(zu[between]), fam$logcdf(zl[between])))
  sum(fam$logpdf(zl[exact]) - log(sigma) - log(lower[exact])) +
    sum(fam$logsf(zl[right])) + sum(fam$logcdf(zu[left])) + sum(between_value)
}

# Repeated restarts: Nelder-Mead is sure but slow, BFGS quick but needs a good start.
maximise <- function(start, f) {
  guarded <- function(p) { v <- f(p); if (is.finite(v)) -v else 1e10 }
  best <- optim(start, guarded, control = list(reltol = 1e-14, maxit = 20000))
  for (i in 1:3) {
    next_one <- optim(best$par, guarded, method = "BFGS",
      control = list(reltol = 1e-15, maxit = 2000, ndeps = rep(1e-5, length(start))))
    if (next_one$value <= best$value) best <- next_one
    next_one <- optim(best$par, guarded, control = list(reltol = 1e-15, maxit = 20000))
    if (next_one$value <= best$value) best <- next_one
  }
  list(par = best$par, value = -best$value)
}

mle <- function(lower, upper, fam) {
  middle <- ifelse(is.infinite(upper), lower, ifelse(lower == 0, upper, sqrt(lower * upper)))
  fit <- maximise(c(mean(log(middle)), log(max(sd(log(middle)), 0.02))),
    function(p) loglik(lower, upper, p[1], exp(p[2]), fam))
  list(mu = fit$par[1], sigma = exp(fit$par[2]), loglik = fit$value)
}

# Maximum over (median of A, spread of A, spread of B) with log-ratio of medians B/A held at d.
constrained <- function(a, b, d, fam, start) {
  maximise(start, function(p)
    loglik(a$lower, a$upper, p[1] - exp(p[2]) * fam$z50, exp(p[2]), fam) +
    loglik(b$lower, b$upper, p[1] + d - exp(p[3]) * fam$z50, exp(p[3]), fam))
}

ratio_interval <- function(a, b, fam, level = 0.95) {
  fa <- mle(a$lower, a$upper, fam)
  fb <- mle(b$lower, b$upper, fam)
  ma <- fa$mu + fa$sigma * fam$z50
  mb <- fb$mu + fb$sigma * fam$z50
  dhat <- mb - ma
  top <- fa$loglik + fb$loglik
  drop <- function(d) {
    fits <- lapply(c(ma, mb - d, (ma + mb - d) / 2), function(m)
      constrained(a, b, d, fam, c(m, log(fa$sigma), log(fb$sigma)))$value)
    2 * (top - max(unlist(fits))) - qchisq(level, 1)
  }
  width <- 0.1
  while (drop(dhat - width) < 0 || drop(dhat + width) < 0) {
    width <- width * 1.6
    if (width > 8) return(NULL)
  }
  low <- uniroot(drop, c(dhat - width, dhat), f.upper = -qchisq(level, 1), tol = 1e-10)$root
  high <- uniroot(drop, c(dhat, dhat + width), f.lower = -qchisq(level, 1), tol = 1e-10)$root
  c(ratio = exp(dhat), lower = exp(low), upper = exp(high), drop0 = drop(0) + qchisq(level, 1))
}

interval2 <- function(lower, upper) {
  survival::Surv(ifelse(lower == 0, NA, lower), ifelse(is.infinite(upper), NA, upper),
    type = "interval2")
}

strict <- function() survival::survreg.control(rel.tolerance = 1e-13, maxiter = 200)

versions <- function() {
  paste0("# recorded with ", R.version$version.string, ", survival ",
    as.character(packageVersion("survival")))
}

record <- function(frame, path) {
  for (name in names(frame)) if (is.numeric(frame[[name]]))
    frame[[name]] <- sub("Inf", "inf", formatC(frame[[name]], digits = 15, format = "g", width = 1))
  connection <- file(path, "w")
  writeLines(versions(), connection)
  write.csv(frame, connection, row.names = FALSE, quote = FALSE)
  close(connection)
}
