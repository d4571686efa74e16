-- AlterTable
ALTER TABLE "incident" ADD COLUMN     "cause_category" TEXT,
ADD COLUMN     "cause_machine_id" INTEGER,
ADD COLUMN     "closed_without" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "due_at" TIMESTAMPTZ(3),
ADD COLUMN     "verdict" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "verification_id" INTEGER,
ADD COLUMN     "whys" JSONB NOT NULL DEFAULT '[]';

-- AlterTable
ALTER TABLE "incident_photo" ADD COLUMN     "removed_at" TIMESTAMPTZ(3),
ADD COLUMN     "removed_by" INTEGER,
ADD COLUMN     "removed_reason" TEXT;

-- AlterTable
ALTER TABLE "incident_signal" ADD COLUMN     "reason" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "incident_step" ADD COLUMN     "due_at" TIMESTAMPTZ(3),
ADD COLUMN     "evidence" TEXT,
ADD COLUMN     "state" TEXT;

-- CreateTable
CREATE TABLE "incident_event" (
    "plant_id" INTEGER NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "event_id" INTEGER NOT NULL,
    "linked_by" INTEGER NOT NULL,
    "linked_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "reason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "incident_event_pkey" PRIMARY KEY ("plant_id","incident_id","event_id")
);

-- CreateTable
CREATE TABLE "incident_verification" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "asked" JSONB NOT NULL,
    "answer" JSONB NOT NULL,
    "version" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "incident_verification_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "incident_reply" (
    "plant_id" INTEGER NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "version" INTEGER NOT NULL,
    "text" TEXT NOT NULL,
    "counts" BOOLEAN NOT NULL,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "incident_reply_pkey" PRIMARY KEY ("plant_id","incident_id","version")
);

-- CreateIndex
CREATE INDEX "incident_verification_plant_id_incident_id_idx" ON "incident_verification"("plant_id", "incident_id");

-- AddForeignKey
ALTER TABLE "incident" ADD CONSTRAINT "incident_plant_id_cause_machine_id_fkey" FOREIGN KEY ("plant_id", "cause_machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_event" ADD CONSTRAINT "incident_event_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_verification" ADD CONSTRAINT "incident_verification_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_reply" ADD CONSTRAINT "incident_reply_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Rows from before are "open" or "closed", and stay so.
ALTER TABLE "incident" ADD CONSTRAINT "incident_state_known" CHECK ("state" IN ('open', 'contained', 'cause-found', 'action-taken', 'effect-verified', 'closed'));
-- A verified effect rests on a comparison that is kept for this very plant.
ALTER TABLE "incident" ADD CONSTRAINT "incident_verification_fkey" FOREIGN KEY ("plant_id", "verification_id") REFERENCES "incident_verification"("plant_id", "id");
ALTER TABLE "incident" ADD CONSTRAINT "incident_effect_has_its_comparison" CHECK ("state" <> 'effect-verified' OR "verification_id" IS NOT NULL);
ALTER TABLE "incident_event" ADD CONSTRAINT "incident_event_event_fkey" FOREIGN KEY ("plant_id", "event_id") REFERENCES "line_event"("plant_id", "id");
ALTER TABLE "incident_verification" ADD CONSTRAINT "incident_verification_stream_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id");
ALTER TABLE "incident_photo" ADD CONSTRAINT "incident_photo_removed_by_somebody" CHECK (("removed_at" IS NULL) = ("removed_by" IS NULL) AND ("removed_at" IS NULL) = ("removed_reason" IS NULL));
-- The overdue ones are asked for with every look at the list.
CREATE INDEX "incident_due" ON "incident"("plant_id", "due_at") WHERE "state" <> 'closed' AND "due_at" IS NOT NULL;

-- What was compared and what was written to a customer stays as it was.
CREATE TRIGGER "verifications_are_kept" BEFORE UPDATE OR DELETE ON "incident_verification" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "replies_are_kept" BEFORE UPDATE OR DELETE ON "incident_reply" FOR EACH ROW EXECUTE FUNCTION refuse_change();
