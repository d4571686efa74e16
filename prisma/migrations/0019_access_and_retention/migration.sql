-- AlterTable
ALTER TABLE "session" ADD COLUMN     "active_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "address" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "agent" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "locked_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "auditor_scope" (
    "plant_id" INTEGER NOT NULL,
    "user_id" INTEGER NOT NULL,
    "customer" TEXT NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "until_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "auditor_scope_pkey" PRIMARY KEY ("plant_id","user_id")
);

-- CreateTable
CREATE TABLE "session_rule" (
    "plant_id" INTEGER NOT NULL,
    "idle_minutes" INTEGER NOT NULL,

    CONSTRAINT "session_rule_pkey" PRIMARY KEY ("plant_id")
);

-- CreateTable
CREATE TABLE "retention_rule" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "years" INTEGER NOT NULL,
    "source" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "author" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "retention_rule_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "legal_hold" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "customer" TEXT,
    "product_id" INTEGER,
    "incident_id" INTEGER,
    "from_at" TIMESTAMPTZ(3),
    "until_at" TIMESTAMPTZ(3),
    "reason" TEXT NOT NULL,
    "placed_by" TEXT NOT NULL,
    "placed_at" TIMESTAMPTZ(3) NOT NULL,
    "lifted_by" TEXT,
    "lifted_at" TIMESTAMPTZ(3),
    "lift_reason" TEXT,

    CONSTRAINT "legal_hold_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "retention_act" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor" TEXT NOT NULL,
    "user_id" INTEGER NOT NULL,
    "taken_before" TIMESTAMPTZ(3) NOT NULL,
    "checks" INTEGER NOT NULL,
    "subgroups" INTEGER NOT NULL,
    "hash" TEXT NOT NULL,
    "reason" TEXT NOT NULL,

    CONSTRAINT "retention_act_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "retention_deletion" (
    "plant_id" INTEGER NOT NULL,
    "check_id" INTEGER NOT NULL,
    "act_id" INTEGER NOT NULL,

    CONSTRAINT "retention_deletion_pkey" PRIMARY KEY ("plant_id","check_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "retention_rule_plant_id_kind_version_key" ON "retention_rule"("plant_id", "kind", "version");

-- AddForeignKey
ALTER TABLE "auditor_scope" ADD CONSTRAINT "auditor_scope_plant_id_user_id_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What the schema language does not say.
ALTER TABLE "auditor_scope" ADD CONSTRAINT "auditor_scope_in_order" CHECK ("from_at" < "until_at");
ALTER TABLE "session_rule" ADD CONSTRAINT "session_rule_bounded" CHECK ("idle_minutes" BETWEEN 1 AND 480);
ALTER TABLE "retention_rule" ADD CONSTRAINT "retention_rule_bounded" CHECK ("years" BETWEEN 1 AND 100);
-- A hold of nothing would keep everything, and one that says nothing must not look as if it kept something.
ALTER TABLE "legal_hold" ADD CONSTRAINT "legal_hold_names_something" CHECK (coalesce("customer", "product_id"::text, "incident_id"::text, "from_at"::text, "until_at"::text) IS NOT NULL);
ALTER TABLE "legal_hold" ADD CONSTRAINT "legal_hold_lifted_with_reason" CHECK (num_nonnulls("lifted_by", "lifted_at", "lift_reason") IN (0, 3));
ALTER TABLE "retention_deletion" ADD CONSTRAINT "retention_deletion_act_fkey" FOREIGN KEY ("plant_id", "act_id") REFERENCES "retention_act"("plant_id", "id");

CREATE TRIGGER "retention_rules_are_versions" BEFORE UPDATE OR DELETE ON "retention_rule" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "retention_acts_are_kept" BEFORE UPDATE OR DELETE ON "retention_act" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "retention_deletions_are_kept" BEFORE UPDATE OR DELETE ON "retention_deletion" FOR EACH ROW EXECUTE FUNCTION refuse_change();

CREATE FUNCTION keep_legal_hold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.lifted_at IS NOT NULL
    OR (NEW.plant_id, NEW.id, NEW.name, NEW.customer, NEW.product_id, NEW.incident_id, NEW.from_at, NEW.until_at, NEW.reason, NEW.placed_by, NEW.placed_at)
      IS DISTINCT FROM (OLD.plant_id, OLD.id, OLD.name, OLD.customer, OLD.product_id, OLD.incident_id, OLD.from_at, OLD.until_at, OLD.reason, OLD.placed_by, OLD.placed_at) THEN
    RAISE EXCEPTION 'rows of legal_hold are never changed, only lifted once' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "legal_holds_are_kept" BEFORE UPDATE OR DELETE ON "legal_hold" FOR EACH ROW EXECUTE FUNCTION keep_legal_hold();

-- Readings may go only where an act of retention names their check; changed they are never.
CREATE FUNCTION refuse_change_but_retention() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM retention_deletion d WHERE d.plant_id = OLD.plant_id AND d.check_id = OLD.check_id) THEN
    RETURN OLD;
  END IF;
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
DROP TRIGGER "subgroup_revision_is_append_only" ON "subgroup_revision";
CREATE TRIGGER "subgroup_revision_is_append_only" BEFORE UPDATE OR DELETE ON "subgroup_revision" FOR EACH ROW EXECUTE FUNCTION refuse_change_but_retention();
DROP TRIGGER "check_counts_are_kept" ON "check_count";
CREATE TRIGGER "check_counts_are_kept" BEFORE UPDATE OR DELETE ON "check_count" FOR EACH ROW EXECUTE FUNCTION refuse_change_but_retention();
DROP TRIGGER "check_ratings_are_kept" ON "check_rating";
CREATE TRIGGER "check_ratings_are_kept" BEFORE UPDATE OR DELETE ON "check_rating" FOR EACH ROW EXECUTE FUNCTION refuse_change_but_retention();
