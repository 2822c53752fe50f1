# JSON and quantities, read without any package: this is a second engine, so that nothing of the library is in it.

parse_json <- function(text) {
  s <- utf8ToInt(text)
  i <- 1L
  ch <- function() s[i]
  skip <- function() while (i <= length(s) && s[i] %in% c(32L, 9L, 10L, 13L)) i <<- i + 1L
  want <- function(c) { if (ch() != utf8ToInt(c)) stop("JSON: ", c, " at ", i); i <<- i + 1L }
  value <- function() {
    skip()
    c <- intToUtf8(ch())
    if (c == "{") return(object())
    if (c == "[") return(array())
    if (c == "\"") return(string())
    j <- i
    while (j <= length(s) && !(s[j] %in% utf8ToInt(",]} \n\t\r"))) j <- j + 1L
    word <- intToUtf8(s[i:(j - 1L)])
    i <<- j
    switch(word, true = TRUE, false = FALSE, null = NULL, structure(as.numeric(word), text = word))
  }
  string <- function() {
    want("\"")
    out <- integer()
    while (ch() != 34L) {
      c <- ch()
      if (c == 92L) {
        i <<- i + 1L
        e <- intToUtf8(ch())
        if (e == "u") {
          c <- strtoi(intToUtf8(s[(i + 1L):(i + 4L)]), 16L)
          i <<- i + 4L
        } else c <- switch(e, n = 10L, t = 9L, r = 13L, b = 8L, f = 12L, utf8ToInt(e))
      }
      out <- c(out, c)
      i <<- i + 1L
    }
    i <<- i + 1L
    if (length(out)) intToUtf8(out) else ""
  }
  array <- function() {
    want("[")
    out <- list()
    skip()
    if (ch() == 93L) { i <<- i + 1L; return(out) }
    repeat {
      out[length(out) + 1L] <- list(value())
      skip()
      if (ch() == 93L) { i <<- i + 1L; return(out) }
      want(",")
    }
  }
  object <- function() {
    want("{")
    out <- list()
    skip()
    if (ch() == 125L) { i <<- i + 1L; return(out) }
    repeat {
      skip()
      name <- string()
      skip()
      want(":")
      out[name] <- list(value())
      skip()
      if (ch() == 125L) { i <<- i + 1L; return(out) }
      want(",")
    }
  }
  value()
}

# What one of each unit is in grams, millimetres, seconds, kelvins and what is made of them.
# Avoirdupois pound 453.59237 g, inch 25.4 mm, Btu (International Table) 1055.05585262 J, atmosphere 101325 Pa.
lb <- 453.59237
units <- c(
  "g" = 1, "mg" = 1e-3, "kg" = 1e3, "t" = 1e6, "lb" = lb, "oz" = lb / 16,
  "mm" = 1, "cm" = 10, "m" = 1e3, "in" = 25.4, "ft" = 304.8, "km" = 1e6,
  "s" = 1, "ms" = 1e-3, "min" = 60, "h" = 3600, "d" = 86400,
  "C°" = 1, "F°" = 5 / 9, "K" = 1, "%" = 0.01,
  "g/ml" = 1, "kg/l" = 1, "kg/m3" = 1e-3, "g/l" = 1e-3,
  "strokes/min" = 1 / 60, "strokes/h" = 1 / 3600, "rev/min" = 1 / 60, "pieces/min" = 1 / 60, "pieces/h" = 1 / 3600, "pieces/s" = 1,
  "kg/h" = 1e3 / 3600, "g/h" = 1 / 3600, "t/h" = 1e6 / 3600, "lb/h" = lb / 3600, "oz/h" = lb / 16 / 3600, "g/min" = 1 / 60, "kg/min" = 1e3 / 60, "g/s" = 1,
  "mm/s" = 1, "m/s" = 1e3, "m/min" = 1e3 / 60, "ft/min" = 304.8 / 60,
  "ml" = 1, "l" = 1e3, "ml/min" = 1 / 60, "ml/h" = 1 / 3600, "l/h" = 1e3 / 3600,
  "Pa" = 1, "kPa" = 1e3, "hPa" = 1e2, "mbar" = 1e2, "bar" = 1e5, "psi" = 6894.757293168361,
  "J" = 1, "kJ" = 1e3, "Btu" = 1055.05585262, "%/min" = 0.01 / 60, "W/(m2 K)" = 1, "kJ/(kg K)" = 1
)

# quantity turns a text with a unit into a number in the units above, temperatures into degrees Celsius.
quantity <- function(x) {
  if (is.null(x) || is.logical(x)) return(x)
  if (is.list(x)) return(lapply(x, quantity))
  if (is.numeric(x)) return(as.numeric(x))
  m <- regmatches(x, regexec("^([-+0-9.eE]+) (.+)$", x))[[1]]
  if (length(m) != 3) return(x)
  v <- suppressWarnings(as.numeric(m[2]))
  if (is.na(v)) return(x)
  if (m[3] == "°C") return(v)
  if (m[3] == "°F") return((v - 32) * 5 / 9)
  if (!(m[3] %in% names(units))) return(x)
  v * units[[m[3]]]
}

# printed gives the value in the unit in which it was printed, with half a unit of its last digit.
printed <- function(ours, want, tol) {
  text <- if (is.numeric(want)) attr(want, "text") else want
  m <- regmatches(text, regexec("^([-+0-9.eE]+)( (.+))?$", text))[[1]]
  unit <- m[4]
  v <- as.numeric(m[2])
  if (unit == "°F") ours <- ours * 9 / 5 + 32
  else if (unit != "" && unit != "°C") ours <- ours / units[[unit]]
  digits <- sub("[eE].*$", "", m[2])
  power <- if (grepl("[eE]", m[2])) as.numeric(sub("^.*[eE]", "", m[2])) else 0
  decimals <- if (grepl(".", digits, fixed = TRUE)) nchar(sub("^[^.]*\\.", "", digits)) else 0
  half <- 0.5 * 10^(power - decimals)
  if (!is.null(tol)) half <- as.numeric(sub(" .*$", "", tol))
  list(ours = ours, theirs = v, agrees = abs(ours - v) <= half * (1 + 1e-9) + 1e-12 * abs(v))
}
