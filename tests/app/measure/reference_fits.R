# The fits of two packages on the cases of r_agreement_test.cpp: survival::survreg for censored normal data and
# metafor::rma for random effects, with lm where the values have no deviations of their own. A kind ending in "line" is a
# regression on the position. Reads CSV (case,kind,value,variance,position,censored), writes CSV
# (case,mean,sd,log,se,slope,slope_se); 0 where a kind has no such number.
arguments <- commandArgs(trailingOnly = TRUE)
suppressMessages(suppressWarnings({
  library(survival)
  library(metafor)
}))
cases <- read.csv(arguments[1], stringsAsFactors = FALSE, na.strings = character(0))
out <- data.frame()
for (name in unique(cases$case)) {
  d <- cases[cases$case == name, ]
  kind <- d$kind[1]
  if (kind == "left") {
    fit <- survreg(Surv(d$value, d$censored != "below", type = "left") ~ 1, dist = "gaussian",
                   control = survreg.control(rel.tolerance = 1e-12, maxiter = 200))
  } else if (kind == "interval2") {
    low <- ifelse(d$censored == "below", NA, d$value)
    high <- ifelse(d$censored == "above", NA, d$value)
    fit <- survreg(Surv(low, high, type = "interval2") ~ 1, dist = "gaussian",
                   control = survreg.control(rel.tolerance = 1e-12, maxiter = 200))
  } else if (kind == "lm line") {
    fit <- lm(d$value ~ d$position)
    table <- coef(summary(fit))
    out <- rbind(out, data.frame(case = name, mean = table[1, 1], sd = summary(fit)$sigma,
                                 log = as.numeric(logLik(fit, REML = TRUE)), se = table[1, 2], slope = table[2, 1],
                                 slope_se = table[2, 2]))
    next
  } else if (endsWith(kind, " line")) {
    fit <- rma(yi = d$value, vi = d$variance, mods = ~ d$position, method = sub(" line", "", kind),
               control = list(threshold = 1e-12, maxiter = 10000))
    out <- rbind(out, data.frame(case = name, mean = fit$beta[1], sd = sqrt(fit$tau2), log = as.numeric(logLik(fit)),
                                 se = fit$se[1], slope = fit$beta[2], slope_se = fit$se[2]))
    next
  } else {
    fit <- rma(yi = d$value, vi = d$variance, method = kind,
               control = list(threshold = 1e-12, maxiter = 10000))
    out <- rbind(out, data.frame(case = name, mean = as.numeric(fit$beta), sd = sqrt(fit$tau2),
                                 log = as.numeric(logLik(fit)), se = fit$se,
                                 slope = 0, slope_se = 0))
    next
  }
  out <- rbind(out, data.frame(case = name, mean = as.numeric(coef(fit)), sd = fit$scale, log = fit$loglik[1], se = 0,
                               slope = 0, slope_se = 0))
}
out[, -1] <- format(out[, -1], digits = 15)
write.csv(out, arguments[2], row.names = FALSE, quote = FALSE)
