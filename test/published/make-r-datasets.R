# Writes r-datasets.json: what base R says about data sets that come with it (all in the public domain).
# Run by hand in the main folder: Rscript test/published/make-r-datasets.R
number <- function(x) paste0("[", paste(format(as.numeric(x), digits = 17, trim = TRUE, scientific = TRUE), collapse = ", "), "]")
one <- function(x) format(as.numeric(x), digits = 17, scientific = TRUE)
series <- list(precip = as.numeric(precip), rivers = rivers, nhtemp = as.numeric(nhtemp), lynx = as.numeric(lynx), Nile = as.numeric(Nile), LakeHuron = as.numeric(LakeHuron))
rows <- sapply(names(series), function(name) {
  x <- series[[name]]; at <- seq_along(x); line <- summary(lm(x ~ at)); slope <- line$coefficients[2, ]; interval <- confint(lm(x ~ at))[2, ]
  sprintf('{"name": "%s", "values": %s, "mean": %s, "sd": %s, "lags": %s, "slope": %s, "slopeSe": %s, "slopeP": %s, "slopeLow": %s, "slopeHigh": %s, "residualSd": %s, "rSquared": %s, "low": %s, "high": %s, "skewness": %s, "kurtosis": %s}',
    name, number(x), one(mean(x)), one(sd(x)), number(acf(x, 3, plot = FALSE)$acf[2:4]), one(slope[1]), one(slope[2]), one(slope[4]), one(interval[1]), one(interval[2]),
    one(line$sigma), one(line$r.squared), one(t.test(x)$conf.int[1]), one(t.test(x)$conf.int[2]), one(mean((x - mean(x))^3) / mean((x - mean(x))^2)^1.5), one(mean((x - mean(x))^4) / mean((x - mean(x))^2)^2))
})
groups <- list(PlantGrowth = PlantGrowth, chickwts = chickwts, InsectSprays = InsectSprays, iris = iris[, c("Sepal.Width", "Species")])
ways <- sapply(names(groups), function(name) {
  d <- groups[[name]]; y <- d[[which(sapply(d, is.numeric))]]; g <- d[[which(sapply(d, is.factor))]]; a <- anova(lm(y ~ g)); b <- bartlett.test(y, g)
  sprintf('{"name": "%s", "values": %s, "labels": %s, "between": %s, "within": %s, "f": %s, "p": %s, "sds": %s, "sizes": %s, "bartlett": %s, "bartlettP": %s}',
    name, number(y), number(as.integer(g)), one(a$`Sum Sq`[1]), one(a$`Sum Sq`[2]), one(a$`F value`[1]), one(a$`Pr(>F)`[1]), number(tapply(y, g, sd)), number(tapply(y, g, length)), one(b$statistic), one(b$p.value))
})
writeLines(c('{', sprintf('"source": "R %s.%s: mean, sd, acf, lm, t.test, anova, bartlett.test on its own data sets (see make-r-datasets.R)",', R.version$major, R.version$minor),
  '"series": [', paste(rows, collapse = ",\n"), '],', '"groups": [', paste(ways, collapse = ",\n"), ']', '}'), "test/published/r-datasets.json")
