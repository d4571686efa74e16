-- CreateTable
CREATE TABLE "synonym_revision" (
    "plant_id" INTEGER NOT NULL,
    "group_id" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "preferred" TEXT NOT NULL,
    "others" TEXT[],
    "retired" BOOLEAN NOT NULL,
    "author" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "synonym_revision_pkey" PRIMARY KEY ("plant_id","group_id","revision")
);

-- CreateTable
CREATE TABLE "origin_weights" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "defect" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "origins" JSONB NOT NULL,
    "author" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "origin_weights_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "origin_weights_plant_id_defect_version_key" ON "origin_weights"("plant_id", "defect", "version");

-- What the schema language does not say ------------------------------------------------------------------------------

ALTER TABLE "synonym_revision" ADD CONSTRAINT "synonym_revision_group_fkey" FOREIGN KEY ("plant_id", "group_id") REFERENCES "synonym_group"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "origin_weights"
  ADD CONSTRAINT "origin_weights_author_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "origin_weights_are_a_list" CHECK (jsonb_typeof("origins") = 'array');

-- What groups said before is in the trail of changes; reasons were not asked for then. A group without a trail has the state in which it is.
INSERT INTO "synonym_revision" ("plant_id", "group_id", "revision", "preferred", "others", "retired", "author", "reason", "at")
  SELECT g."plant_id", g."id", row_number() OVER (PARTITION BY g."plant_id", g."id" ORDER BY a."id"), a."after"->>'preferred', ARRAY(SELECT jsonb_array_elements_text(a."after"->'others')), coalesce((a."after"->>'retired')::boolean, false), a."actor", '', a."at"
  FROM "synonym_group" g JOIN "audit_row" a ON a."plant_id" = g."plant_id" AND a."subject" = 'synonyms ' || g."id" AND a."action" LIKE 'synonyms.%'
  WHERE jsonb_typeof(a."after"->'others') = 'array' AND a."after"->>'preferred' IS NOT NULL;
INSERT INTO "synonym_revision" ("plant_id", "group_id", "revision", "preferred", "others", "retired", "author", "reason", "at")
  SELECT g."plant_id", g."id", g."revision", g."preferred", g."others", g."retired_at" IS NOT NULL, coalesce(u."name", ''), '', g."changed_at"
  FROM "synonym_group" g LEFT JOIN "user" u ON u."plant_id" = g."plant_id" AND u."id" = g."author_id"
  ON CONFLICT DO NOTHING;

CREATE TRIGGER "origin_weights_are_versions" BEFORE UPDATE OR DELETE ON "origin_weights" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "synonym_revisions_are_kept" BEFORE UPDATE OR DELETE ON "synonym_revision" FOR EACH ROW EXECUTE FUNCTION refuse_change();
