-- AlterTable
ALTER TABLE "note_link" ADD COLUMN     "reasons" JSONB NOT NULL DEFAULT '[]',
ADD COLUMN     "rejected_at" TIMESTAMPTZ(3),
ADD COLUMN     "rejected_by" INTEGER;

-- CreateTable
CREATE TABLE "synonym_group" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "preferred" TEXT NOT NULL,
    "others" TEXT[],
    "retired_at" TIMESTAMPTZ(3),
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "revision" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "synonym_group_pkey" PRIMARY KEY ("plant_id","id")
);

-- A rejection names its person and moment, and what is confirmed is not rejected.
ALTER TABLE "note_link" ADD CONSTRAINT "note_link_judged_once" CHECK (("rejected_by" IS NULL) = ("rejected_at" IS NULL) AND ("confirmed_by" IS NULL OR "rejected_by" IS NULL));
ALTER TABLE "synonym_group" ADD CONSTRAINT "synonym_group_has_words" CHECK (btrim("preferred") <> '' AND cardinality("others") > 0);

-- Wakes the search indexes of every API process: one notice a statement, equal ones of a transaction are sent once.
-- It carries nothing: a process that missed one asks the tables what changed.
CREATE FUNCTION tell_past_fixes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('past_fixes', '');
  RETURN NULL;
END
$$;
CREATE TRIGGER "note_is_searched" AFTER INSERT OR UPDATE OR DELETE ON "note" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "note_link_is_searched" AFTER INSERT OR UPDATE OR DELETE ON "note_link" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "incident_is_searched" AFTER INSERT OR UPDATE OR DELETE ON "incident" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "incident_signal_is_searched" AFTER INSERT OR UPDATE OR DELETE ON "incident_signal" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "synonym_group_is_searched" AFTER INSERT OR UPDATE OR DELETE ON "synonym_group" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
-- Names of machines, products and lines stand in the index too.
CREATE TRIGGER "machine_is_searched" AFTER UPDATE OF "code", "name" ON "machine" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "product_is_searched" AFTER UPDATE OF "code", "name" ON "product" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
CREATE TRIGGER "line_is_searched" AFTER UPDATE OF "code", "name" ON "line" FOR EACH STATEMENT EXECUTE FUNCTION tell_past_fixes();
