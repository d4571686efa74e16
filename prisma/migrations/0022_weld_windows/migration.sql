-- CreateTable
CREATE TABLE "weld_window" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER,
    "machine_id" INTEGER,
    "product_id" INTEGER,
    "characteristic_id" INTEGER NOT NULL,
    "version" INTEGER NOT NULL,
    "lower" DOUBLE PRECISION,
    "upper" DOUBLE PRECISION,
    "near_edge" DOUBLE PRECISION,
    "material" TEXT NOT NULL DEFAULT '',
    "speed" DOUBLE PRECISION,
    "wire" TEXT NOT NULL DEFAULT '',
    "tested_at" TIMESTAMPTZ(3),
    "tested_by" TEXT NOT NULL DEFAULT '',
    "evidence" TEXT NOT NULL DEFAULT '',
    "effective_from" TIMESTAMPTZ(3) NOT NULL,
    "author" TEXT NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "weld_window_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateIndex
CREATE INDEX "weld_window_plant_id_characteristic_id_idx" ON "weld_window"("plant_id", "characteristic_id");

-- What the schema language does not say ------------------------------------------------------------------------------

ALTER TABLE "weld_window"
  ADD CONSTRAINT "weld_window_line_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "weld_window_machine_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "weld_window_product_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "weld_window_characteristic_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "weld_window_author_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT "weld_window_of_one_place" CHECK (("line_id" IS NULL) <> ("machine_id" IS NULL)),
  ADD CONSTRAINT "weld_window_is_whole" CHECK (("lower" IS NULL) = ("upper" IS NULL) AND ("lower" IS NULL) = ("near_edge" IS NULL) AND ("lower" IS NULL) = ("tested_at" IS NULL)),
  ADD CONSTRAINT "weld_window_has_width" CHECK ("lower" IS NULL OR ("lower" >= 0 AND "upper" > "lower" AND "near_edge" BETWEEN 0 AND 50)),
  ADD CONSTRAINT "weld_window_holds_after_its_test" CHECK ("tested_at" IS NULL OR "effective_from" >= "tested_at");
CREATE UNIQUE INDEX "weld_window_version" ON "weld_window" ("plant_id", "line_id", "machine_id", "product_id", "characteristic_id", "version") NULLS NOT DISTINCT;

CREATE TRIGGER "weld_windows_are_versions" BEFORE UPDATE OR DELETE ON "weld_window" FOR EACH ROW EXECUTE FUNCTION refuse_change();
