# Reference values for the comparison of samples: R 4.2.2, run by hand from the top folder, writes test/published/association.json.
# Data from R's datasets: sleep (Student 1908), InsectSprays (Beall 1942), PlantGrowth (Dobson 1983), airquality (Chambers et
# al. 1983). The fifteen ps are of Benjamini & Hochberg 1995, section 3.1 (typed from memory, recomputed only through p.adjust).
num <- function(x) paste0("[", paste(format(unname(as.numeric(x)), digits = 17, trim = TRUE), collapse = ", "), "]")
obj <- function(...) { l <- list(...); paste0("{", paste0('"', names(l), '": ', unlist(l), collapse = ",\n "), "}") }
groups <- function(s) paste0("[", paste(sapply(s, num), collapse = ", "), "]")

a <- sleep$extra[1:10]; b <- sleep$extra[11:20]
two <- function(...) { r <- t.test(b, a, ...); c(r$estimate[1] - r$estimate[2], r$conf.int, r$statistic, r$parameter, r$p.value) }
# Hedges' g with its interval by inverting R's noncentral t, times J = gamma(m/2) / (sqrt(m/2) gamma((m-1)/2)).
hedges <- function(x, y) {
  m <- length(x) + length(y) - 2; k <- sqrt(1 / length(x) + 1 / length(y))
  t <- unname(t.test(y, x, var.equal = TRUE)$statistic); J <- exp(lgamma(m / 2) - lgamma((m - 1) / 2)) / sqrt(m / 2)
  at <- function(p) uniroot(function(ncp) pt(t, m, ncp) - p, c(t - 8, t + 8), tol = 1e-13)$root
  num(J * k * c(t, at(0.975), at(0.025)))
}
several <- function(s) {
  y <- unlist(s); f <- factor(rep(seq_along(s), lengths(s)))
  k <- kruskal.test(y, f); one <- oneway.test(y ~ f, var.equal = TRUE); w <- oneway.test(y ~ f); d <- anova(lm(abs(y - ave(y, f, FUN = median)) ~ f))
  pairs <- combn(length(s), 2, function(i) t.test(s[[i[1]]], s[[i[2]]])$p.value)
  obj(samples = groups(s), pairs = num(pairs), adjusted = num(p.adjust(pairs, "BY")), kruskal = num(c(k$statistic, k$parameter, k$p.value)), anova = num(c(one$statistic, one$parameter, one$p.value)),
      welch = num(c(w$statistic, w$parameter, w$p.value)), spread = num(c(d[["F value"]][1], d$Df, d[["Pr(>F)"]][1])))
}
ozone <- airquality[!is.na(airquality$Ozone), ]; months <- split(ozone$Ozone, ozone$Month)
x <- PlantGrowth$weight[11:20] + (1:10) * 1e-5; y <- PlantGrowth$weight[21:30] + (1:10) * 1.7e-5
exact <- wilcox.test(y, x); ties <- wilcox.test(months[[4]], months[[1]], exact = FALSE)
ps <- c(0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.000)
many <- c(obj(ps = num(ps), `benjamini-hochberg` = num(p.adjust(ps, "BH")), `benjamini-yekutieli` = num(p.adjust(ps, "BY")), holm = num(p.adjust(ps, "holm"))))
writeLines(obj(source = '"R 4.2.2, make-association.R"', sleep = obj(a = num(a), b = num(b), welch = num(two()), student = num(two(var.equal = TRUE)), hedges = hedges(a, b)),
  sprays = several(split(InsectSprays$count, InsectSprays$spray)), growth = several(split(PlantGrowth$weight, PlantGrowth$group)), ozone = several(months),
  rankExact = obj(a = num(x), b = num(y), expected = num(c(exact$statistic, exact$p.value))),
  rankTies = obj(a = num(months[[1]]), b = num(months[[4]]), expected = num(c(ties$statistic, ties$p.value))), many = many), "test/published/association.json")
