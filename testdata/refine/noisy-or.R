# Reference values for the refinement tests, from R's own qbeta, optim and
# optimHess: none of the code under test has a part in them.
# Written with R 4.2.2 (Debian package r-base-core). Run in this folder:
#   Rscript noisy-or.R
# It draws cases.csv (fixed seed), finds the maximum of the posterior density
# of the log-odds directly, and writes maximum.csv and quantiles.csv.

rule <- c(cause = 0.2, stresses = 0.6, rate_a = 0.1, because = 0.5, rate_b = 0.15,
          a_shows_f = 0.7, b_shows_f = 0.5, b_shows_g = 0.8, leak_f = 0.05, leak_g = 0.1)
truth <- plogis(qlogis(rule) + log(2) * c(1, -1, 1, -1, -1, 1, 1, -1, -1, 1))
hit <- 0.9; false_alarm <- 0.05      # of the reporter
prior_size <- 4                      # basis: invented
size <- prior_size * pmax(1, 0.25 / pmin(rule, 1 - rule))

# All states of cause, stress, mode a, mode b, findings f and g.
states <- expand.grid(c = 0:1, s = 0:1, a = 0:1, b = 0:1, f = 0:1, g = 0:1)
joint <- function(p) {
  bern <- function(x, q) ifelse(x == 1, q, 1 - q)
  with(states,
    bern(c, p["cause"]) *
    bern(s, c * p["stresses"]) *
    bern(a, 1 - (1 - p["rate_a"]) * (1 - s * p["because"])) *
    bern(b, p["rate_b"]) *
    bern(f, 1 - (1 - p["leak_f"]) * (1 - a * p["a_shows_f"]) * (1 - b * p["b_shows_f"])) *
    bern(g, 1 - (1 - p["leak_g"]) * (1 - b * p["b_shows_g"])))
}

# Cases: f and g reported (1, 0) or not (NA); parts a and b found (1), cleared
# (0) or not looked at (NA); the cause settled or not.
set.seed(46)
n <- 300
k <- sample(nrow(states), n, replace = TRUE, prob = joint(truth))
maybe <- function(x, share) ifelse(runif(n) < share, x, NA)
says <- function(x) as.integer(runif(n) < ifelse(x == 1, hit, false_alarm))
drawn <- data.frame(f = maybe(says(states$f[k]), 0.9), g = maybe(says(states$g[k]), 0.7),
                    a = maybe(states$a[k], 0.6), b = maybe(states$b[k], 0.4),
                    cause = maybe(states$c[k], 0.3))
drawn <- drawn[!is.na(drawn$a) | !is.na(drawn$b), ]
drawn[is.na(drawn)] <- -1
cases <- aggregate(count ~ f + g + a + b + cause, cbind(drawn, count = 1), sum)
cases <- cases[do.call(order, cases), ]
write.csv(cases, "cases.csv", row.names = FALSE)

report <- function(x, r) if (r < 0) rep(1, length(x)) else
  ifelse(x == 1, if (r == 1) hit else 1 - hit, if (r == 1) false_alarm else 1 - false_alarm)
look <- function(x, r) if (r < 0) rep(1, length(x)) else as.numeric(x == r)
weight <- sapply(seq_len(nrow(cases)), function(i) with(cases[i, ],
  report(states$f, f) * report(states$g, g) * look(states$a, a) * look(states$b, b) * look(states$c, cause)))

log_posterior <- function(x) {
  p <- plogis(x); names(p) <- names(rule)
  sum(cases$count * log(colSums(weight * joint(p)))) +
    sum(size * rule * log(p) + size * (1 - rule) * log1p(-p))
}
x <- qlogis(rule)
for (i in 1:5)
  x <- optim(x, log_posterior, method = "BFGS", control = list(fnscale = -1, reltol = 1e-15, maxit = 1000, ndeps = rep(1e-5, 10)))$par
h <- -optimHess(x, log_posterior, control = list(ndeps = rep(1e-4, 10)))
out <- data.frame(name = names(rule), rule = rule, maximum = plogis(x), sd_log_odds = sqrt(diag(solve(h))))
write.csv(format(out, digits = 10), "maximum.csv", row.names = FALSE, quote = FALSE)
cat(sprintf("log posterior %.9f\n", log_posterior(x)))

q <- expand.grid(mean = c(0.001, 0.0234, 0.25, 0.5, 0.85, 0.99), size = c(4, 21, 150, 5003), level = c(0.05, 0.95))
q$quantile <- qbeta(q$level, q$mean * q$size, (1 - q$mean) * q$size)
write.csv(format(q, digits = 12, scientific = TRUE), "quantiles.csv", row.names = FALSE, quote = FALSE)
