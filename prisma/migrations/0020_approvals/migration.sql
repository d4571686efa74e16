-- AlterTable
ALTER TABLE "plant" ADD COLUMN     "second_person" BOOLEAN NOT NULL DEFAULT true;

-- AlterTable
ALTER TABLE "specification" ADD COLUMN     "decided_at" TIMESTAMPTZ(3),
ADD COLUMN     "decided_by" INTEGER,
ADD COLUMN     "decision" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "state" TEXT NOT NULL DEFAULT 'approved';

-- What the schema language does not say ------------------------------------------------------------------------------

-- Revisions from before count as approved. One that waits is decided once; nothing else of a revision ever changes.
ALTER TABLE "specification" ADD CONSTRAINT "specification_state_is_known" CHECK ("state" IN ('proposed', 'approved', 'rejected'));
ALTER TABLE "specification" ADD CONSTRAINT "specification_decision_is_signed" CHECK (("decided_at" IS NULL) = ("decided_by" IS NULL) AND ("state" <> 'proposed' OR "decided_at" IS NULL) AND ("state" <> 'rejected' OR "decided_at" IS NOT NULL));
ALTER TABLE "specification" ADD CONSTRAINT "specification_decided_by_fkey" FOREIGN KEY ("plant_id", "decided_by") REFERENCES "user"("plant_id", "id");

CREATE FUNCTION keep_specification() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.state = 'proposed' AND NEW.state IN ('approved', 'rejected') AND NEW.decided_at IS NOT NULL
    AND to_jsonb(NEW) - ARRAY['state', 'decided_at', 'decided_by', 'decision'] = to_jsonb(OLD) - ARRAY['state', 'decided_at', 'decided_by', 'decision'] THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
DROP TRIGGER "specifications_are_revisions" ON "specification";
CREATE TRIGGER "specifications_are_revisions" BEFORE UPDATE OR DELETE ON "specification" FOR EACH ROW EXECUTE FUNCTION keep_specification();
