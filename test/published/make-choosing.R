# Reference values for hierarchies, memory and the comparison of limits: R 4.2.2, run by hand, writes choosing.json.
# Data: InsectSprays (Beall 1942), lh (Diggle 1990), Nile (Cobb 1978), warpbreaks (Tippett 1950), all in R's datasets.
num <- function(x) paste0("[", paste(format(x, digits = 17, trim = TRUE), collapse = ", "), "]")
txt <- function(x) paste0("[", paste0('"', x, '"', collapse = ", "), "]")

# An uneven hierarchy made from InsectSprays: some readings are left out. Expected mean squares from the projections
# themselves (trace of Z' Q Z), a way that shares nothing with formulas of group sizes.
d <- InsectSprays[-c(1, 2, 3, 14, 25, 26, 40, 55, 56, 57, 58, 72), ]
d$half <- factor((seq_len(nrow(d)) * 7) %% 3)
nested <- function(y, a, b) {
  a <- factor(a); b <- interaction(a, b, drop = TRUE)
  fit <- anova(lm(y ~ a + b))
  proj <- function(X) { q <- qr(X); Q <- qr.Q(q)[, seq_len(q$rank), drop = FALSE]; Q %*% t(Q) }
  n <- length(y)
  P <- list(matrix(1 / n, n, n), proj(model.matrix(~ a)), proj(model.matrix(~ 0 + b)), diag(n))
  Z <- list(model.matrix(~ 0 + a), model.matrix(~ 0 + b), diag(n))
  C <- sapply(1:3, function(j) sapply(1:3, function(k) sum(diag(t(Z[[j]]) %*% (P[[k + 1]] - P[[k]]) %*% Z[[j]])) / fit$Df[k]))
  list(df = fit$Df, ss = fit[["Sum Sq"]], f = c(fit[["Mean Sq"]][1] / fit[["Mean Sq"]][2], fit[["F value"]][2]),
       p = c(pf(fit[["Mean Sq"]][1] / fit[["Mean Sq"]][2], fit$Df[1], fit$Df[2], lower.tail = FALSE), fit[["Pr(>F)"]][2]), raw = solve(C, fit[["Mean Sq"]]))
}
one <- function(y, a, b) { r <- nested(y, a, b); paste0('{"values": ', num(y), ', "outer": ', txt(a), ', "inner": ', txt(b), ', "df": ', num(r$df), ', "ss": ', num(r$ss), ', "f": ', num(r$f), ', "p": ', num(r$p), ', "raw": ', num(r$raw), "}") }

# Box.test subtracts its p from 1 and so loses the digits of small ones; the tail is asked for itself.
memory <- function(x, lags) {
  b <- Box.test(x, lag = lags, type = "Ljung-Box")
  paste0('{"values": ', num(as.numeric(x)), ', "lags": ', lags, ', "r": ', num(acf(x, lag.max = lags, plot = FALSE)$acf[-1]), ', "q": ', format(unname(b$statistic), digits = 17), ', "p": ', format(pchisq(unname(b$statistic), lags, lower.tail = FALSE), digits = 17), "}")
}
compare <- function(x, y) {
  t <- t.test(y, x); v <- var.test(y, x)
  paste0('{"before": ', num(x), ', "after": ', num(y), ', "t": ', format(unname(t$statistic), digits = 17), ', "df": ', format(unname(t$parameter), digits = 17), ', "p": ', format(t$p.value, digits = 17), ', "f": ', format(unname(v$statistic), digits = 17), ', "pf": ', format(v$p.value, digits = 17), "}")
}
writeLines(c("{",
  paste0('"source": "R 4.2.2: lm, projections, acf, Box.test, t.test, var.test on InsectSprays, warpbreaks, lh, Nile, sunspot.year, sleep (see make-choosing.R)",'),
  paste0('"uneven": [', one(d$count, as.character(d$spray), as.character(d$half)), ",\n", one(warpbreaks$breaks[-c(1, 5, 20, 21, 22, 40)], as.character(warpbreaks$wool)[-c(1, 5, 20, 21, 22, 40)], as.character(warpbreaks$tension)[-c(1, 5, 20, 21, 22, 40)]), "],"),
  paste0('"memory": [', memory(lh, 8), ",\n", memory(Nile, 10), ",\n", memory(sunspot.year[1:120], 12), "],"),
  paste0('"revisions": [', compare(sleep$extra[1:10], sleep$extra[11:20]), ",\n", compare(Nile[1:28], Nile[29:100]), "]"), "}"), "test/published/choosing.json")
