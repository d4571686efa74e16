# Analyses of variance and tests by base R, written to gauges-aov.json. Run by hand: Rscript test/published/make-gauges-aov.R
# Data: the impedance study of Montgomery & Runger 1993 (from memory), as in make-gauges.py.
x <- c(21,20,20,20,19,21, 24,23,24,24,23,24, 20,21,19,21,20,22, 27,27,28,26,27,28, 19,18,19,18,18,21, 23,21,24,21,23,22,
       22,21,22,24,22,20, 19,17,18,20,19,18, 24,23,25,23,24,24, 25,23,26,25,24,25, 21,20,20,20,21,20, 18,19,17,19,18,19,
       23,25,25,25,25,25, 24,24,23,25,24,25, 29,30,30,28,31,30, 26,26,25,26,25,27, 20,20,19,20,20,20, 19,21,19,19,21,23,
       25,26,25,24,25,25, 19,19,18,17,19,17)
part <- gl(20, 6); appraiser <- gl(3, 2, 120)
crossed <- summary(aov(x ~ part * appraiser))[[1]]
y <- x[1:108]; group <- gl(3, 36); own <- gl(18, 6)
nested <- summary(aov(y ~ group / own))[[1]]
f <- function(v) paste0('[', paste(formatC(v, digits = 15, format = 'g'), collapse = ', '), ']')
cat('{"program": "R ', R.version$major, '.', R.version$minor, ' aov",\n "crossed": {"ss": ', f(crossed[[2]]), ', "interaction": ', f(c(crossed[[4]][3], crossed[[5]][3])),
    '},\n "nested": {"ss": ', f(nested[[2]]), ', "df": ', f(nested[[1]]), ', "part": ', f(c(nested[[4]][2], nested[[5]][2])), '}}\n', sep = '', file = 'test/published/gauges-aov.json')
