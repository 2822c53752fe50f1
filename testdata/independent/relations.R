# Each calculation as its sources state it. q is the question in grams, millimetres, seconds, degrees Celsius, fractions of one;
# what comes back is named as in the answer. NULL: this question has a part that the source does not cover.

relation <- list()
or <- function(x, default) if (is.null(x)) default else x
col <- function(list, name) vapply(list, function(x) as.numeric(or(x[[name]], NA)), 0)

# ---- the mixing room ----

# The factor rule: the temperatures of all factors, the friction taken off once or as a rise for each factor.
known_temps <- function(q) unlist(c(q$flour_temp, q$room, q$preferment_temp, if (is.list(q$third)) q$third$temp else q$third))
factor_sum <- function(q, n, target) {
  f <- or(q$friction, 0)
  if (identical(q$friction_basis, "per-factor")) n * (target - f) else n * target - f
}
relation[["water-temperature"]] <- function(q) {
  t <- known_temps(q); n <- length(t) + 1
  list(water_temp = factor_sum(q, n, q$target_temp) - sum(t), factors = n)
}
relation[["base-temperature"]] <- function(q) list(base = factor_sum(q, q$factors, q$target_temp))
relation[["water-for-base"]] <- function(q) { t <- known_temps(q); list(water_temp = q$base - sum(t), factors = length(t) + 1) }
relation[["base-for-water"]] <- function(q) {
  t <- c(q$water_temp, known_temps(q))
  list(base = sum(t), factors = length(t), fahrenheit = sum(t * 9 / 5 + 32))
}
relation[["dough-temperature-for-water"]] <- function(q) {
  t <- c(q$water_temp, known_temps(q)); n <- length(t); f <- or(q$friction, 0)
  list(dough_temp = if (identical(q$friction_basis, "per-factor")) sum(t) / n + f else (sum(t) + f) / n, factors = n)
}
relation[["friction-factor"]] <- function(q) {
  t <- c(q$water_temp, known_temps(q)); n <- length(t)
  list(once = n * q$dough_temp - sum(t), per_factor = q$dough_temp - sum(t) / n, factors = n)
}
# Ice that replaces formula water, with 80 C° (144 F°) of melting, or added on top of it.
relation[["ice"]] <- function(q) {
  if (!is.null(q$melting) && q$melting != "trade" || !is.null(q$melting_heat)) return(NULL)
  d <- max(0, q$tap - q$needed_temp)
  ice <- if (identical(q$reading, "on-top")) q$water * d / (q$needed_temp + 80) else q$water * d / (q$tap + 80)
  list(ice = ice)
}
relation[["water-draw"]] <- function(q) {
  if (q$needed_temp > q$tap) return(NULL)
  ice <- q$water * (q$tap - q$needed_temp) / (q$tap + 80)
  list(ice = ice, tap_water = q$water - ice, hot_water = 0)
}
# Enthalpy of liquid water from 0 °C, as the integral of a specific heat near 4.18 kJ/(kg K), Wagner and Pruss (IAPWS-95) values
# at 0.101325 MPa every ten degrees, interpolated by a spline.
enthalpy <- splinefun(seq(0, 100, 10), c(0.06, 42.12, 84.01, 125.82, 167.62, 209.42, 251.25, 293.12, 335.05, 377.06, 419.17))
relation[["water-mix"]] <- function(q) {
  x <- (enthalpy(q$wanted_temp) - enthalpy(q$cold)) / (enthalpy(q$hot) - enthalpy(q$cold))
  list(hot_water = q$water * x, cold_water = q$water * (1 - x))
}
relation[["temperature-for-water-mix"]] <- function(q) {
  h <- (q$cold_water * enthalpy(q$cold) + q$hot_water * enthalpy(q$hot)) / (q$cold_water + q$hot_water)
  list(temperature = uniroot(function(t) enthalpy(t) - h, c(0, 100), tol = 1e-9)$root)
}

# Baker's percent: of the flour.
relation[["formula-scale"]] <- function(q) {
  if (!is.null(q$division) || !is.null(q$round_up) || !is.null(q$scales)) return(NULL)
  p <- col(q$ingredients, "percent"); total <- sum(p)
  flour <- if (!is.null(q$flour)) q$flour else q$dough / total
  out <- list(flour = flour, dough = flour * total, total_percent = total, weighed = flour * total)
  for (i in seq_along(p)) out[[sprintf("parts[%d].mass", i - 1)]] <- out[[sprintf("parts[%d].exact", i - 1)]] <- flour * p[i]
  out
}
relation[["formula-from-weights"]] <- function(q) {
  m <- col(q$weights, "mass"); role <- vapply(q$weights, function(x) x$role, "")
  flour <- sum(m[role == "flour"])
  out <- list(total_percent = sum(m) / flour, dough = sum(m), flour = flour)
  for (i in seq_along(m)) out[[sprintf("ingredients[%d].percent", i - 1)]] <- m[i] / flour
  out
}
relation[["hydration"]] <- function(q) {
  water <- 0; flour <- 0; starter <- FALSE
  for (g in q$ingredients) {
    if (g$role == "flour") flour <- flour + g$percent
    else if (g$role == "water") water <- water + g$percent
    else if (g$role == "liquid") water <- water + g$percent * (if (identical(q$liquids, "water-content")) g$water_content else 1)
    else if (g$role == "starter") { water <- water + g$percent * g$hydration / (1 + g$hydration); flour <- flour + g$percent / (1 + g$hydration) }
  }
  list(hydration = water / flour)
}
relation[["bread-yield"]] <- function(q) { y <- (q$bread - or(q$rework, 0)) / q$flour; list(yield = y, gain = y - 1) }
relation[["flour-for-bread"]] <- function(q) list(flour = (q$bread - or(q$rework, 0)) / q$yield)
relation[["bread-for-flour"]] <- function(q) list(bread = q$flour * q$yield + or(q$rework, 0), gain = q$yield - 1)
relation[["loss-from-weights"]] <- function(q) list(lost = q$dough - q$baked, loss_on_dough = 1 - q$baked / q$dough, loss_on_baked = q$dough / q$baked - 1)
# Losses of the dough that goes in, or of the bread that comes out; one after the other, or added.
relation[["scaling-weight"]] <- function(q) {
  steps <- Filter(Negate(is.null), q[c("fermentation", "bake", "cooling")])
  if (identical(q$combine, "added")) {
    if (length(unique(vapply(steps, function(s) s$basis, ""))) != 1) return(NULL)
    p <- sum(col(steps, "percent")); k <- if (steps[[1]]$basis == "baked") 1 + p else 1 / (1 - p)
  } else k <- prod(vapply(steps, function(s) if (s$basis == "baked") 1 + s$percent else 1 / (1 - s$percent), 0))
  list(dough = q$baked * k, extra = q$baked * (k - 1), loss_on_baked = k - 1, loss_on_dough = 1 - 1 / k)
}
relation[["starter-feeding"]] <- function(q) {
  parts <- c(q$seed_parts, q$flour_parts, q$water_parts); m <- q$wanted_weight * parts / sum(parts)
  flour <- m[1] / (1 + q$seed_hydration) + m[2]; water <- m[1] - m[1] / (1 + q$seed_hydration) + m[3]
  list(seed = m[1], flour = m[2], water = m[3], hydration = water / flour)
}
relation[["preferment-percent"]] <- function(q) {
  x <- q$percent; total <- or(q$total_percent, NA)
  if (!(q$reading %in% c("flour-on-flour", "mass-on-flour"))) return(NULL)
  if (is.na(total)) return(NULL)
  f <- if (q$reading == "flour-on-flour") x else x / total # the preferment's own total percent
  list(flour_on_flour = f, mass_on_flour = f * total, mass_on_final_flour = f * total / (1 - f))
}
relation[["batch-plan"]] <- function(q) {
  if (!is.null(q$waste) && q$waste > 0) return(NULL)
  list(dough = q$pieces * q$piece_weight, batches = ceiling(q$pieces * q$piece_weight / q$mixer_high - 1e-9))
}
relation[["pieces-for-dough"]] <- function(q) if (is.null(q$waste)) list(pieces = floor(q$dough / q$piece_weight + 1e-9))
relation[["dough-density"]] <- function(q) if (!is.null(q$gas) && is.numeric(q$gas_free)) list(density = q$gas_free * (1 - q$gas))
relation[["gas-for-density"]] <- function(q) list(gas = 1 - q$density / q$gas_free, expansion = q$gas_free / q$density)

# Specific heats of the parts of a food, Choi and Okos (1986), as in the ASHRAE Handbook, Refrigeration (from memory), in J/(kg K).
relation[["dough-property"]] <- function(q) {
  if (length(q$ingredients) != 1) return(NULL)
  t <- or(q$temperature, 20); k <- q$ingredients[[1]]$composition
  if (is.null(k)) return(NULL)
  at <- function(a, b, c) a + b * t + c * t^2
  cp <- c(water_content = at(4176.2, -9.0864e-2, 5.4731e-3), protein = at(2008.2, 1.2089, -1.3129e-3), fat = at(1984.2, 1.4733, -4.8008e-3),
          carbohydrate = at(1548.8, 1.9625, -5.9399e-3), fibre = at(1845.9, 1.8306, -4.6509e-3), ash = at(1092.6, 1.8896, -3.6817e-3))
  if (!is.null(k$fibre)) k$carbohydrate <- k$carbohydrate - k$fibre # which the tables count in
  parts <- intersect(names(k), names(cp)); x <- unlist(k[parts])
  list(specific_heat = sum(x * cp[parts]) / sum(x) / 1000)
}

# ---- the divider, weighing, charts ----

relation[["divider-rate"]] <- function(q) { p <- q$strokes * q$across; list(piece_rate = p, dough_rate = p * q$piece, beat = 1 / q$strokes) }
relation[["hopper-time"]] <- function(q) list(time = (q$batch + or(q$head, 0)) / q$dough_rate + or(q$wait, 0))
# Ideal gas in the dough, pressed together in the chamber (Boyle).
relation[["chamber-weight"]] <- function(q) {
  if (q$ambient != q$chamber) { g <- q$gas / (1 - q$gas) * q$ambient / q$chamber; gas <- g / (1 + g) } else gas <- q$gas
  list(density = q$gas_free * (1 - gas), weight = q$gas_free * (1 - gas) * q$volume)
}
relation[["weight-drift"]] <- function(q) { m <- q$start_weight / (1 + q$growth * q$time); list(end_weight = m, drift = m - q$start_weight) }
relation[["oil-use"]] <- function(q) {
  v <- sum(unlist(q$valves)); open <- q$scaling + or(q$left_open, 0); run <- v * open
  list(oil_rate = v, per_run = run, lost_oil = v * or(q$left_open, 0), lost_share = or(q$left_open, 0) / open, per_day = run * q$runs,
       lost_day = v * or(q$left_open, 0) * q$runs, oil_per_piece = if (!is.null(q$pieces_per_run)) v * q$scaling / q$pieces_per_run else NULL)
}
relation[["flour-use"]] <- function(q) {
  f <- q$scale$intercept + q$scale$per_step * q$stickiness
  if (!is.null(q$scale$trial_piece)) f <- f * (q$piece / q$scale$trial_piece)^(2 / 3) # as the surfaces of the pieces
  list(flour_per_piece = f, hour = f * q$piece_rate, per_run = f * q$piece_rate * q$run_time)
}
# A straight line by least squares, R's own.
fit_of <- function(q) {
  if (!(or(q$shape, "straight") == "straight" && or(q$weighting, "equal") == "equal")) return(NULL)
  if (any(col(q$trials, "pieces") > 1, na.rm = TRUE)) return(NULL)
  data.frame(x = col(q$trials, "mark"), y = col(q$trials, "weight"))
}
relation[["mark-fit"]] <- function(q) {
  d <- fit_of(q); if (is.null(d)) return(NULL)
  s <- summary(lm(y ~ x, d)); k <- s$coefficients
  list(intercept = k[1, 1], intercept_sd = k[1, 2], slope = k[2, 1], slope_sd = k[2, 2], sum_squares = sum(s$residuals^2),
       calibration.residual_sd = s$sigma, calibration.degrees_of_freedom = s$df[2], covariance = s$sigma^2 * s$cov.unscaled[1, 2])
}
straight <- function(k) k$shape == "straight" && k$weighting == "equal"
relation[["weight-for-mark"]] <- function(q) {
  k <- q$calibration; if (!straight(k)) return(NULL)
  y <- k$mean_weight + k$slope * (q$mark - k$mean_mark)
  v <- 1 / k$sum_weights + (q$mark - k$mean_mark)^2 / k$sxx
  if (!is.null(q$pieces)) v <- v + 1 / q$pieces else if (identical(q$of, "piece")) v <- v + 1
  h <- k$student_t * k$residual_sd * sqrt(v)
  list(weight = y, low = y - h, high = y + h)
}
# Fieller's interval of the inverse prediction.
relation[["mark-for-weight"]] <- function(q) {
  k <- q$calibration; if (!straight(k)) return(NULL)
  x <- k$mean_mark + (q$weight - k$mean_weight) / k$slope
  g <- (k$student_t * k$residual_sd)^2 / (k$slope^2 * k$sxx)
  if (identical(q$of, "piece") || !is.null(q$interval) && q$interval != "fieller" || g >= 1) return(list(mark = x))
  d <- x - k$mean_mark
  h <- k$student_t * k$residual_sd / abs(k$slope) * sqrt((1 - g) / k$sum_weights + d^2 / k$sxx)
  list(mark = x, g = g, low = k$mean_mark + (d - h) / (1 - g), high = k$mean_mark + (d + h) / (1 - g))
}
# Nodes and weights of Gauss and Legendre on (-1, 1), from the eigenvalues of the tridiagonal matrix (Golub and Welsch).
legendre <- function(n) {
  b <- seq_len(n - 1) / sqrt(4 * seq_len(n - 1)^2 - 1)
  m <- matrix(0, n, n); m[cbind(1:(n - 1), 2:n)] <- b; m[cbind(2:n, 1:(n - 1))] <- b
  e <- eigen(m, symmetric = TRUE); list(x = e$values, w = 2 * e$vectors[1, ]^2)
}
# Chart constants from the moments of the range of normal values (Tippett 1925), and of their standard deviation.
relation[["chart-constants"]] <- function(q) {
  n <- q$subgroup_size
  d2 <- 2 * integrate(function(x) 1 - pnorm(x)^n - pnorm(-x)^n, 0, Inf, rel.tol = 1e-13, subdivisions = 1000L)$value
  g <- legendre(120)
  y <- 9 * g$x; wy <- 9 * g$w # the larger value
  h <- outer((y + 9) / 2, g$x + 1) - 9 # the smaller, from -9 to y
  w <- outer(wy * (y + 9) / 2, g$w)
  f <- 1 - pnorm(y)^n - pnorm(-h)^n + (pnorm(y) - pnorm(h))^n
  d3 <- sqrt(2 * sum(w * f) - d2^2)
  c4 <- sqrt(2 / (n - 1)) * exp(lgamma(n / 2) - lgamma((n - 1) / 2)); s <- sqrt(1 - c4^2)
  list(mean_range = d2, sd_range = d3, mean_sd = c4, factor_a = 3 / sqrt(n), factor_a2 = 3 / (d2 * sqrt(n)), factor_a3 = 3 / (c4 * sqrt(n)),
       factor_b3 = max(0, 1 - 3 * s / c4), factor_b4 = 1 + 3 * s / c4, factor_b5 = max(0, c4 - 3 * s), factor_b6 = c4 + 3 * s,
       factor_d1 = max(0, d2 - 3 * d3), factor_d2 = d2 + 3 * d3, factor_d3 = max(0, 1 - 3 * d3 / d2), factor_d4 = 1 + 3 * d3 / d2)
}
# Average run length: the integral equation of the sum, by Gauss-Legendre quadrature.
one_sided_cusum <- function(k, h, mu) {
  g <- legendre(60); x <- h / 2 * (g$x + 1); w <- h / 2 * g$w
  # L(u) = 1 + L(0) P(u + X - k <= 0) + integral of L(y) f(y + k - u)
  a <- outer(x, x, function(u, y) dnorm(y + k - u - mu)) * rep(w, each = length(x))
  a <- rbind(c(pnorm(k - mu), dnorm(x + k - mu) * w), cbind(pnorm(k - x - mu), a))
  if (rcond(diag(nrow(a)) - a) < 1e-15) return(Inf) # it hardly ever signals
  solve(diag(nrow(a)) - a, rep(1, nrow(a)))[1]
}
relation[["run-length"]] <- function(q) {
  mu <- or(q$shift_in_sd, 0)
  if (q$kind == "cusum") {
    up <- one_sided_cusum(q$slack, q$decision, mu)
    if (identical(q$sides, "one")) return(list(run_length = up))
    return(list(run_length = 1 / (1 / up + 1 / one_sided_cusum(q$slack, q$decision, -mu))))
  }
  if (q$kind %in% c("averages", "individuals")) {
    p <- pnorm(-q$limit_width + mu) + pnorm(-q$limit_width - mu)
    return(list(run_length = 1 / p))
  }
  if (q$kind == "ewma" && !identical(q$sides, "one")) {
    l <- q$ewma_weight; c <- q$limit_width * sqrt(l / (2 - l))
    g <- legendre(80); x <- c * g$x; w <- c * g$w
    a <- outer(x, x, function(u, y) dnorm((y - (1 - l) * u) / l - mu) / l) * rep(w, each = length(x))
    L <- solve(diag(length(x)) - a, rep(1, length(x)))
    return(list(run_length = 1 + sum(L * dnorm(x / l - mu) / l * w)))
  }
  NULL
}
relation[["operating-curve"]] <- function(q) {
  out <- list()
  for (i in seq_along(q$shifts)) {
    d <- q$shifts[[i]] * sqrt(q$subgroup_size); miss <- pnorm(q$limit_width - d) - pnorm(-q$limit_width - d)
    out[[sprintf("points[%d].missed", i - 1)]] <- miss
    out[[sprintf("points[%d].run_length", i - 1)]] <- 1 / (1 - miss)
  }
  out
}
relation[["capability"]] <- function(q) {
  s <- q$sd_within; n <- q$pieces; nu <- n - 1; z <- qnorm((1 + q$confidence) / 2)
  if (is.null(s) || is.null(q$low) || is.null(q$high)) return(NULL)
  cp <- (q$high - q$low) / (6 * s); cpl <- (q$mean - q$low) / (3 * s); cpu <- (q$high - q$mean) / (3 * s); cpk <- min(cpl, cpu)
  half <- z * sqrt(1 / (9 * n) + cpk^2 / (2 * nu))
  out <- list(cp = cp, cpl = cpl, cpu = cpu, cpk = cpk, cpk_low = cpk - half, cpk_high = cpk + half,
              cp_low = cp * sqrt(qchisq((1 - q$confidence) / 2, nu) / nu), cp_high = cp * sqrt(qchisq((1 + q$confidence) / 2, nu) / nu),
              share_below = pnorm((q$low - q$mean) / or(q$sd_overall, s)), share_above = pnorm((q$high - q$mean) / or(q$sd_overall, s), lower.tail = FALSE))
  if (!is.null(q$target)) {
    x <- (q$mean - q$target) / s; out$cpm <- cp / sqrt(1 + x^2); v <- n * (1 + x^2)^2 / (1 + 2 * x^2)
    out$cpm_low <- out$cpm * sqrt(qchisq((1 - q$confidence) / 2, v) / v); out$cpm_high <- out$cpm * sqrt(qchisq((1 + q$confidence) / 2, v) / v)
  }
  out
}
# Tolerance factors: the noncentral t for one side; for two sides the integral over the mean; Howe's approximation.
relation[["tolerance-factor"]] <- function(q) {
  n <- q$pieces; nu <- n - 1; p <- q$share; a <- q$confidence
  one <- suppressWarnings(qt(a, nu, ncp = qnorm(p) * sqrt(n))) / sqrt(n) # R doubts the last digits of its own
  howe <- sqrt(nu * (1 + 1 / n) * qnorm((1 + p) / 2)^2 / qchisq(1 - a, nu))
  r <- function(z) { # half the width that holds the share about a mean that is off by z
    uniroot(function(x) pnorm(z + x) - pnorm(z - x) - p, c(0, 50), tol = 1e-13)$root
  }
  chance <- function(k) {
    f <- function(z) vapply(z, function(z) pchisq(nu * r(z)^2 / k^2, nu, lower.tail = FALSE) * dnorm(z * sqrt(n)) * sqrt(n), 0)
    2 * integrate(f, 0, 8 / sqrt(n), rel.tol = 1e-10)$value - a
  }
  list(one_sided = one, howe = howe, two_sided = uniroot(chance, howe * c(0.7, 1.4), tol = 1e-11)$root)
}
relation[["pieces-to-weigh"]] <- function(q) {
  if (!is.null(q$group) || !is.null(q$half_step) || !is.null(q$division) || is.null(q$half_width)) return(NULL)
  n <- 2
  while (qt((1 + q$confidence) / 2, n - 1) * q$sd / sqrt(n) > q$half_width * (1 + 1e-12)) n <- n + 1
  list(pieces = n, normal = ceiling((qnorm((1 + q$confidence) / 2) * q$sd / q$half_width)^2 - 1e-9))
}
power_of <- function(q, n, shift) {
  a <- 1 - q$confidence; d <- shift / q$sd * sqrt(n)
  if (identical(q$sides, "one")) pt(qt(1 - a, n - 1), n - 1, ncp = d, lower.tail = FALSE)
  else { t <- qt(1 - a / 2, n - 1); pt(t, n - 1, ncp = d, lower.tail = FALSE) + pt(-t, n - 1, ncp = d) }
}
relation[["pieces-to-detect"]] <- function(q) {
  n <- 2
  while (power_of(q, n, q$shift) < q$detection_chance) n <- n + 1
  z <- qnorm(if (identical(q$sides, "one")) q$confidence else (1 + q$confidence) / 2) + qnorm(q$detection_chance)
  list(pieces = n, detection_chance = power_of(q, n, q$shift), normal = ceiling((z * q$sd / q$shift)^2 - 1e-9))
}
relation[["shift-for-pieces"]] <- function(q)
  list(shift = uniroot(function(s) power_of(q, q$pieces, s) - q$detection_chance, c(1e-6, 20) * q$sd, tol = 1e-12)$root)
# Tolerable negative error of packages, Directive 76/211/EEC, annex I 2.4, rounded up to a tenth of a gram.
relation[["tolerable-deficiency"]] <- function(q) {
  if (!(q$rules %in% c("eu-76-211", "uk-2006-659"))) return(NULL)
  n <- q$nominal
  t <- if (n <= 50) 0.09 * n else if (n <= 100) 4.5 else if (n <= 200) 0.045 * n else if (n <= 300) 9 else if (n <= 500) 0.03 * n else
    if (n <= 1000) 15 else if (n <= 10000) 0.015 * n else if (n <= 15000) 150 else if (n <= 50000) 0.01 * n else return(NULL)
  t <- ceiling(round(t / 0.1, 9)) * 0.1
  list(deficiency = t, first_limit = n - t, second_limit = n - 2 * t)
}
# The three plans of the reference test by the size of the lot; a sample from a large lot is binomial.
relation[["lot-operating-curve"]] <- function(q) {
  if (!(q$rules %in% c("uk-2006-659", "au-ntmr-2009")) || !identical(q$sampling, "single")) return(NULL)
  plan <- if (q$lot <= 500) c(50, 3) else if (q$lot <= 3200) c(80, 5) else c(125, 7)
  out <- list(first_sample = plan[1], accept = plan[2])
  for (i in seq_along(q$fractions)) out[[sprintf("points[%d].accepted", i - 1)]] <- pbinom(plan[2], plan[1], q$fractions[[i]])
  out
}
relation[["fraction-below"]] <- function(q) {
  d <- relation[["tolerable-deficiency"]](q); if (is.null(d)) return(NULL)
  list(below_first = pnorm(d$first_limit, q$mean, q$sd), below_second = pnorm(d$second_limit, q$mean, q$sd),
       below_nominal = pnorm(q$nominal, q$mean, q$sd), giveaway = q$mean - q$nominal,
       excess = (q$mean - q$nominal) * pnorm(q$mean, q$nominal, q$sd) + q$sd * dnorm((q$mean - q$nominal) / q$sd))
}
relation[["handle-band"]] <- function(q) {
  if (is.null(q$needless) || !is.null(q$label)) return(NULL)
  half <- qnorm(1 - q$needless / 2) * q$sd / sqrt(q$pieces)
  step <- abs(q$per_mark) * q$mark_step / 2 # a handle moves by no less than a step
  list(low = min(q$expected - half, q$target - step), high = max(q$expected + half, q$target + step))
}
relation[["arrival-sd"]] <- function(q) { x <- unlist(q$intervals); list(mean_interval = mean(x), sd = sd(x)) }
relation[["set-up-chart"]] <- function(q) {
  x <- unlist(q$weighings); n <- q$subgroup_size
  if (q$kind != "averages-ranges" || length(x) %% n != 0) return(NULL)
  m <- matrix(x, nrow = n); r <- apply(m, 2, function(v) max(v) - min(v)); k <- relation[["chart-constants"]](list(subgroup_size = n))
  s <- mean(r) / k$mean_range; c <- mean(m)
  list(setup.centre = c, mean_spread = mean(r), setup.sd = s, chart.low = c - 3 * s / sqrt(n), chart.high = c + 3 * s / sqrt(n),
       chart.spread_low = k$factor_d3 * mean(r), chart.spread_high = k$factor_d4 * mean(r))
}

# ---- the proofer and the air ----

passes <- function(p, across) ceiling(p$pockets / across)
relation[["proofer-dwell"]] <- function(q) {
  p <- q$proofer; if (p$trays != or(p$last_pass_trays, p$trays)) return(NULL)
  k <- passes(p, q$across); strokes <- k * p$trays / p$trays_per_stroke
  list(passes = k, dwell = strokes / q$strokes, piece_rate = q$strokes * q$across, inside = strokes * q$across)
}
relation[["takt"]] <- function(q) list(takt = (q$shift - or(q$breaks, 0)) / q$pieces)
relation[["pieces-for-takt"]] <- function(q) list(pieces = floor((q$shift - or(q$breaks, 0)) / q$takt + 1e-9))
relation[["line-capacity"]] <- function(q) {
  r <- col(q$machines, "piece_rate"); u <- col(q$machines, "running"); u[is.na(u)] <- 1
  lost <- or(q$breaks, 0) + or(q$through, 0) + or(q$changeovers, 0) * or(q$changeover_time, 0)
  list(running = prod(u), piece_rate = min(r), pieces = floor(min(r) * prod(u) * (q$shift - lost) + 1e-9))
}
# Little's law.
relation[["final-proof-load"]] <- function(q) if (q$carrier == "continuous" && is.null(q$batch_pieces)) { n <- q$piece_rate * q$stay; list(mean_inside = n, needed = ceiling(n / q$per_carrier - 1e-9), in_proof = ceiling(n - 1e-9)) }
relation[["rate-for-final-proof-load"]] <- function(q) if (q$carrier == "continuous") {
  r <- q$available * q$per_carrier / q$stay; list(piece_rate = r, mass_rate = if (!is.null(q$piece)) r * q$piece else NULL) }
relation[["proof-equivalent"]] <- function(q) {
  if (q$model != "q10" || any(vapply(q$history, function(x) !is.null(x$end_temp), TRUE))) return(NULL)
  t <- col(q$history, "time"); temp <- col(q$history, "temp")
  list(equivalent = sum(t * q$model_value^((temp - q$reference) / 10)), clock = sum(t))
}
relation[["q10-for-proof"]] <- function(q) {
  r <- q$cool$time / q$warm$time; d <- q$warm$temp - q$cool$temp
  list(q10 = r^(10 / d), per_degree = r^(1 / d) - 1, activation = 8.314462618 * log(r) / (1 / (q$cool$temp + 273.15) - 1 / (q$warm$temp + 273.15)) / 1000)
}
# The standard atmosphere as the ASHRAE Handbook, Psychrometrics, writes it.
relation[["air-pressure"]] <- function(q) list(pressure = 101325 * (1 - 2.25577e-5 * q$altitude / 1000)^5.2559)
relation[["altitude-for-air-pressure"]] <- function(q) list(altitude = 1000 * (1 - (q$pressure / 101325)^(1 / 5.2559)) / 2.25577e-5)
# Saturation over water and ice, Hyland and Wexler 1983, as in the ASHRAE Handbook, Psychrometrics (coefficients from memory).
# At 0 °C both equations hold, with 0.6112 kPa; here it is still ice.
p_sat <- function(t) {
  k <- t + 273.15
  ice <- exp(-5.6745359e3 / k + 6.3925247 - 9.677843e-3 * k + 6.2215701e-7 * k^2 + 2.0747825e-9 * k^3 - 9.484024e-13 * k^4 + 4.1635019 * log(k))
  water <- exp(-5.8002206e3 / k + 1.3914993 - 4.8640239e-2 * k + 4.1764768e-5 * k^2 - 1.4452093e-8 * k^3 + 6.5459673 * log(k))
  ifelse(t <= 0, ice, water)
}
relation[["saturation-pressure"]] <- function(q) list(pressure = p_sat(q$temp))
relation[["proof-air"]] <- function(q) {
  if (is.null(q$dry_bulb)) return(NULL)
  p <- or(q$pressure, 101325)
  # Equation 33 of the source for a wick of water, 35 for one of ice.
  ratio_wet <- function(w) {
    ws <- 0.621945 * p_sat(w) / (p - p_sat(w))
    if (w <= 0.01) ((2830 - 0.24 * w) * ws - 1.006 * (q$dry_bulb - w)) / (2830 + 1.86 * q$dry_bulb - 2.1 * w)
    else ((2501 - 2.326 * w) * ws - 1.006 * (q$dry_bulb - w)) / (2501 + 1.86 * q$dry_bulb - 4.186 * w)
  }
  pv <- if (!is.null(q$humidity)) q$humidity * p_sat(q$dry_bulb) else if (!is.null(q$dew_point)) p_sat(q$dew_point) else { w <- ratio_wet(q$wet_bulb); w * p / (0.621945 + w) }
  w <- 0.621945 * pv / (p - pv)
  list(humidity_ratio = 1000 * w, humidity = pv / p_sat(q$dry_bulb), dew_point = uniroot(function(t) p_sat(t) - pv, c(-60, 120), tol = 1e-9)$root,
       wet_bulb = if (q$dry_bulb >= 0) uniroot(function(t) ratio_wet(t) - w, c(-30, q$dry_bulb + 1e-6), tol = 1e-9)$root else NULL)
}
relation[["humidity-for-surface"]] <- function(q) list(sweats_above = p_sat(q$dough_temp) / p_sat(q$air_temp), dries_below = or(q$water_activity, 1) * p_sat(q$dough_temp) / p_sat(q$air_temp))

# ---- the moulder, belts ----

ball <- function(q) (6 * q$piece / q$density / pi * 1000)^(1 / 3)
relation[["drum-choice"]] <- function(q) list(diameter = ball(q))
relation[["sheet"]] <- function(q) { t <- q$gap * q$recovery; list(thickness = t) }
relation[["recovery-from-sheet"]] <- function(q) list(recovery = mean(unlist(q$thicknesses)) / q$gap)
relation[["rectangular-sheet"]] <- function(q) list(thickness = q$piece / q$density * 1000 / (q$length * q$width))
# The thickest sheet from a power-law dough: the pressure between the rollers comes back to nothing where the sheet leaves
# (Gaskell 1950; Brazinsky et al. 1970).
relation[["calender-bound"]] <- function(q) {
  n <- q$index
  gradient <- function(x, out) { d <- out^2 - x^2; sign(d) * abs(d)^n / (1 + x^2)^(2 * n + 1) }
  from <- if (is.null(q$feed)) -Inf else -sqrt(q$feed - 1)
  rise <- function(l) integrate(gradient, from, -l, out = l, rel.tol = 1e-10, subdivisions = 5000L)$value + integrate(gradient, -l, l, out = l, rel.tol = 1e-10, subdivisions = 5000L)$value
  most <- if (is.null(q$feed)) 2 else sqrt(q$feed - 1)
  list(recovery = 1 + uniroot(rise, c(1e-6, most * (1 - 1e-9)), tol = 1e-11)$root^2)
}
# The end of a tight roll has the area of the sheet's edge.
roll <- function(l, t, d) { D <- sqrt(d^2 + 4 * l * t / pi); list(diameter = D, turns = (D - d) / (2 * t)) }
relation[["curls"]] <- function(q) roll(q$length, q$thickness, or(q$core, 0))
relation[["turns-for-gap"]] <- function(q) {
  if (is.null(q$width)) return(NULL)
  t <- q$gap * q$recovery
  l <- q$piece / q$density * 1000 / (t * q$width * pi / 4) # a sheet with rounded ends is an ellipse
  r <- roll(l, t, or(q$core, 0))
  c(r, list(thickness = t, length = l))
}
# An Archimedean spiral whose turns lie a thickness apart, from the middle to where the roll of that area ends, by quadrature.
relation[["spiral-length"]] <- function(q) {
  d <- or(q$core, 0); r <- roll(q$length, q$thickness, d); b <- q$thickness / (2 * pi)
  f <- function(a) sqrt((d / 2 + b * a)^2 + b^2)
  list(spiral = integrate(f, 0, 2 * pi * r$turns, rel.tol = 1e-12)$value)
}
relation[["piece-spacing"]] <- function(q) { p <- q$belt / q$piece_rate; list(pitch = p, gap = p - q$piece_length) }
relation[["belt-train"]] <- function(q) {
  out <- list(); p <- col(q$belts, "belt_speed") / q$piece_rate; if (anyNA(p)) return(NULL)
  for (i in seq_along(p)) {
    out[[sprintf("rows[%d].pitch", i - 1)]] <- p[i]
    out[[sprintf("rows[%d].gap", i - 1)]] <- p[i] - q$belts[[i]]$piece_length
    if (i > 1) out[[sprintf("rows[%d].ratio", i - 1)]] <- p[i] / p[i - 1]
  }
  out
}
# Two pieces touch when the later one is early by more than its gap: a normal deviate of one arrival.
relation[["doubles-risk"]] <- function(q) {
  gap <- q$belt / q$piece_rate - q$piece_length
  p <- pnorm(-(gap / q$belt) / q$sd); list(probability = p, per_hour = p * q$piece_rate * 3600)
}
relation[["stamp-rate"]] <- function(q) {
  s <- q$piece_rate / q$across; list(stamps = s, stamp_interval = 1 / s, dwell = if (!is.null(q$contact)) q$contact / s else NULL, head = if (!is.null(q$around)) s / q$around else NULL)
}
relation[["rounding-time"]] <- function(q) {
  v <- pi * q$diameter * q$drum_speed; if (identical(q$travel, "rolling")) v <- v / 2
  list(time = q$path / v)
}
relation[["rounding-motions"]] <- function(q) { t <- q$rows / q$strokes; list(time = t, motions = t * q$speed) }
relation[["sheeting-passes"]] <- function(q) list(passes = ceiling(log(q$thickness_in / q$thickness_out) / log(q$reduction_limit / q$recovery) - 1e-9))
