# Recomputes the case table in R, from the relations of the sources and not from the library's code.
#
#   Rscript testdata/independent/run.R            what agrees with the values printed, and what does not
#   Rscript testdata/independent/run.R -values    every value, for reading
#
# It leaves with 1 if a value differs that differences.txt does not explain.
args <- commandArgs(trailingOnly = FALSE)
here <- dirname(sub("^--file=", "", grep("^--file=", args, value = TRUE)[1]))
if (is.na(here)) here <- "testdata/independent"
source(file.path(here, "read.R"), encoding = "UTF-8")
source(file.path(here, "relations.R"), encoding = "UTF-8")
show <- "-values" %in% args

explained <- readLines(file.path(here, "differences.txt"), encoding = "UTF-8")
explained <- sub(" #.*$", "", explained[grepl(" # .", explained)])
used <- character()
count <- c(cases = 0, recomputed = 0, values = 0, agree = 0, explained = 0)
without <- list()
failed <- FALSE
for (file in sort(Sys.glob(file.path(here, "..", "cases", "*", "*.json")))) {
  id <- sub("\\.json$", "", basename(file))
  for (case in parse_json(paste(readLines(file, warn = FALSE, encoding = "UTF-8"), collapse = "\n"))) {
    if (!is.null(case$want$errors)) next
    count["cases"] <- count["cases"] + 1
    if (is.null(relation[[id]])) { without[[id]] <- or(without[[id]], 0) + 1; next }
    got <- relation[[id]](quantity(case$`in`))
    names <- intersect(names(case$want), names(got))
    if (length(names) == 0) { without[[id]] <- or(without[[id]], 0) + 1; next }
    count["recomputed"] <- count["recomputed"] + 1
    for (name in names) {
      r <- printed(got[[name]], case$want[[name]], case$tol[[name]])
      count["values"] <- count["values"] + 1
      key <- paste(id, case$id, name)
      if (show) cat(key, format(r$ours, digits = 15), "printed", r$theirs, "\n")
      if (isTRUE(r$agrees)) count["agree"] <- count["agree"] + 1
      else if (key %in% explained) { count["explained"] <- count["explained"] + 1; used <- c(used, key) }
      else { failed <- TRUE; cat("differs:", key, "R", format(r$ours, digits = 12), "case", format(r$theirs, digits = 12), "\n") }
    }
  }
}
for (key in setdiff(explained, used)) { failed <- TRUE; cat("agrees, though differences.txt explains it:", key, "\n") }
cat(sprintf("%d of %d cases recomputed in R, by %d relations; of %d values %d agree as printed and %d differ for a reason given.\n",
            count["recomputed"], count["cases"], length(relation), count["values"], count["agree"], count["explained"]))
cat("Not recomputed: ", paste(sprintf("%s (%d)", names(without), unlist(without)), collapse = ", "), ".\n", sep = "")
if (failed) quit(status = 1)
