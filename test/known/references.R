# Answers questions about distributions and tests with R. Reads lines "name,arg,arg…", writes one line of numbers each.
sides <- c("greater", "less", "two.sided")
answers <- list(
  lnGamma = function(a) lgamma(a[1]),
  gammaUpper = function(a) pgamma(a[2], a[1], lower.tail = FALSE),
  gammaQuantile = function(a) qgamma(a[2], a[1]),
  betaLower = function(a) pbeta(a[3], a[1], a[2]),
  betaQuantile = function(a) qbeta(a[3], a[1], a[2]),
  normalQuantile = function(a) qnorm(a[1]),
  studentUpperQuantile = function(a) qt(a[1], a[2], lower.tail = FALSE),
  garwood = function(a) as.numeric(poisson.test(a[1], conf.level = a[2])$conf.int),
  conditional = function(a) sapply(sides, function(s) poisson.test(c(a[1], a[3]), c(a[2], a[4]), alternative = s)$p.value),
  rateRatio = function(a) as.numeric(poisson.test(c(a[1], a[3]), c(a[2], a[4]))$conf.int),
  wilson = function(a) as.numeric(prop.test(a[1], a[2], conf.level = a[3], correct = FALSE)$conf.int),
  clopperPearson = function(a) as.numeric(binom.test(a[1], a[2], conf.level = a[3])$conf.int),
  binomialTest = function(a) binom.test(a[1], a[2], a[3])$p.value,
  negativeBinomial = function(a) c(dnbinom(a[1], size = a[3], mu = a[2], log = TRUE), pnbinom(a[1], size = a[3], mu = a[2])),
  hypergeometric = function(a) dhyper(a[1], a[3], a[2] - a[3], a[4], log = TRUE),
  holm = function(a) p.adjust(a, "holm")
)
for (line in readLines(file("stdin"))) {
  parts <- strsplit(line, ",")[[1]]
  answer <- answers[[parts[1]]]
  if (is.null(answer)) cat("unknown\n")
  else cat(paste(sprintf("%.17g", answer(as.numeric(parts[-1]))), collapse = ","), "\n", sep = "")
}
