-- CreateTable
CREATE TABLE "check_photo" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "check_id" INTEGER NOT NULL,
    "can" SMALLINT,
    "file_name" TEXT NOT NULL,
    "content_type" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "content" BYTEA NOT NULL,
    "added_by" INTEGER NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL,
    "removed_at" TIMESTAMPTZ(3),
    "removed_by" INTEGER,
    "removed_reason" TEXT,

    CONSTRAINT "check_photo_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "check_photo_plant_id_check_id_idx" ON "check_photo"("plant_id", "check_id");

-- AddForeignKey
ALTER TABLE "check_photo" ADD CONSTRAINT "check_photo_plant_id_check_id_fkey" FOREIGN KEY ("plant_id", "check_id") REFERENCES "check"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "check_photo" ADD CONSTRAINT "check_photo_added_by_fkey" FOREIGN KEY ("plant_id", "added_by") REFERENCES "user"("plant_id", "id");
ALTER TABLE "check_photo" ADD CONSTRAINT "check_photo_removed_by_somebody" CHECK (num_nonnulls("removed_at", "removed_by", "removed_reason") IN (0, 3));
-- One picture is on the page of a check once.
CREATE UNIQUE INDEX "check_photo_shown_once" ON "check_photo"("plant_id", "check_id", "sha256") WHERE "removed_at" IS NULL;
-- A picture is compressed already: no second attempt.
ALTER TABLE "check_photo" ALTER COLUMN "content" SET STORAGE EXTERNAL;

-- A picture is taken off the page once, never changed, and goes only with its check by an act of retention.
CREATE FUNCTION keep_check_photo() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    IF EXISTS (SELECT 1 FROM retention_deletion d WHERE d.plant_id = OLD.plant_id AND d.check_id = OLD.check_id) THEN RETURN OLD; END IF;
  ELSIF OLD.removed_at IS NULL
    AND (NEW.plant_id, NEW.id, NEW.check_id, NEW.can, NEW.file_name, NEW.content_type, NEW.bytes, NEW.sha256, NEW.content, NEW.added_by, NEW.added_at)
      IS NOT DISTINCT FROM (OLD.plant_id, OLD.id, OLD.check_id, OLD.can, OLD.file_name, OLD.content_type, OLD.bytes, OLD.sha256, OLD.content, OLD.added_by, OLD.added_at) THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'rows of check_photo are never changed, only taken off the page once' USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER "check_photos_are_kept" BEFORE UPDATE OR DELETE ON "check_photo" FOR EACH ROW EXECUTE FUNCTION keep_check_photo();
