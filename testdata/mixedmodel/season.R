# An invented season of 25 days of 6 runs, and what R's mixed model says of it.
# Run in this folder: Rscript season.R     (R >= 4, package nlme)
# Writes season.csv and answers.csv. log_power is the natural logarithm of SAE
# J1349's power in that air (dry, no water) over that in 59 F, 29.92 inHg.
library(nlme)
set.seed(5)
inhg <- 3.386389
j1349 <- function(f, p) 1.18 * (99 / (p * inhg)) * sqrt(((f - 32) / 1.8 + 273.15) / 298.15) - 0.18
day <- rep(1:25, each = 6)
temp_f <- round(rep(runif(25, 55, 85), each = 6) + rep(0:5, 25) * 2.5, 1)
station_inhg <- round(rep(rnorm(25, 29.2, 0.25), each = 6), 2)
log_power <- log(j1349(59, 29.92) / j1349(temp_f, station_inhg))
log_et <- log(12) - 0.30 * log_power + rep(rnorm(25, 0, 0.003), each = 6) + rnorm(150, 0, 0.004)
season <- data.frame(day, temp_f, station_inhg, et = round(exp(log_et), 3))
write.csv(season, "season.csv", row.names = FALSE, quote = FALSE)
season$log_power <- log(j1349(59, 29.92) / j1349(season$temp_f, season$station_inhg))
fit <- lme(log(et) ~ log_power, random = ~ 1 | day, data = season, method = "REML")
v <- as.numeric(VarCorr(fit)[, "StdDev"])
ask <- data.frame(day = c(25, 99), log_power = log(j1349(59, 29.92) / j1349(75, 29.0)))
seen <- predict(fit, ask[1, ], level = 1)
new <- predict(fit, ask[2, ], level = 0)
answers <- data.frame(
  what = c("day_sd", "noise_sd", "slope", "slope_se", "et_seen_day", "et_new_day"),
  value = signif(c(v[1], v[2], fixef(fit)[2], sqrt(vcov(fit)[2, 2]), exp(seen), exp(new)), 8)
)
write.csv(answers, "answers.csv", row.names = FALSE, quote = FALSE)
