-- AlterTable
ALTER TABLE "incident_reply" ADD COLUMN     "language" TEXT NOT NULL DEFAULT 'en';

-- What the schema language does not say: answers to customers were English so far.
ALTER TABLE "incident_reply" ADD CONSTRAINT "incident_reply_language_is_offered" CHECK ("language" IN ('en', 'de'));
