-- AlterTable
ALTER TABLE "signature" ADD COLUMN     "corrections" INTEGER;

-- What the schema language does not say ------------------------------------------------------------------------------

-- Which state of a check a signature covers: counted, not told from clocks, which two transactions at one moment read in either order.
ALTER TABLE "signature" ADD CONSTRAINT "signature_counts_corrections_of_checks" CHECK ("corrections" IS NULL OR ("kind" = 'check' AND "corrections" >= 0));
