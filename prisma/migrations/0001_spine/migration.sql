-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateTable
CREATE TABLE "incident" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "customer" TEXT NOT NULL,
    "product_id" INTEGER NOT NULL,
    "line_id" INTEGER NOT NULL,
    "can_code" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "cans_complained" INTEGER NOT NULL,
    "cans_examined" INTEGER NOT NULL,
    "cans_leaking" INTEGER NOT NULL DEFAULT 0,
    "leak_place" TEXT NOT NULL,
    "defect" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "containment" TEXT NOT NULL DEFAULT '',
    "cause" TEXT NOT NULL DEFAULT '',
    "action" TEXT NOT NULL DEFAULT '',
    "closing_note" TEXT NOT NULL DEFAULT '',
    "logged_by" INTEGER NOT NULL,
    "logged_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "closed_at" TIMESTAMPTZ(3),
    "revision" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "incident_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "incident_photo" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "file_name" TEXT NOT NULL,
    "content_type" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "content" BYTEA NOT NULL,
    "added_by" INTEGER NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "incident_photo_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "incident_signal" (
    "plant_id" INTEGER NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "signal_id" INTEGER NOT NULL,
    "linked_by" INTEGER NOT NULL,
    "linked_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "incident_signal_pkey" PRIMARY KEY ("plant_id","incident_id","signal_id")
);

-- CreateTable
CREATE TABLE "incident_step" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "incident_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "user_id" INTEGER,
    "actor" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "comment" TEXT,

    CONSTRAINT "incident_step_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "import" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "file_name" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "content" BYTEA NOT NULL,
    "mapping" JSONB NOT NULL,
    "state" TEXT NOT NULL,
    "rows" INTEGER NOT NULL DEFAULT 0,
    "readings" INTEGER NOT NULL DEFAULT 0,
    "stored" INTEGER NOT NULL DEFAULT 0,
    "refused" INTEGER NOT NULL DEFAULT 0,
    "done" INTEGER NOT NULL DEFAULT 0,
    "problem" TEXT,
    "refused_csv" TEXT,
    "started_by" INTEGER NOT NULL,
    "started_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finished_at" TIMESTAMPTZ(3),
    "undone_at" TIMESTAMPTZ(3),

    CONSTRAINT "import_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "import_mapping" (
    "plant_id" INTEGER NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "mapping" JSONB NOT NULL,
    "used_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "import_mapping_pkey" PRIMARY KEY ("plant_id","fingerprint")
);

-- CreateTable
CREATE TABLE "gauge" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "resolution" DOUBLE PRECISION NOT NULL,
    "unit" TEXT NOT NULL,
    "calibration_due" TIMESTAMPTZ(3),
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "gauge_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "check" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "plan_id" INTEGER,
    "machine_id" INTEGER NOT NULL,
    "product_id" INTEGER NOT NULL,
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "entered_by" INTEGER NOT NULL,
    "inspector" TEXT NOT NULL,
    "can_numbers" INTEGER[],
    "can_unit_ids" INTEGER[],
    "can_lane_ids" INTEGER[],
    "positions" TEXT[],
    "key" TEXT NOT NULL,
    "content_hash" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "import_id" INTEGER,
    "note" TEXT,
    "voided_at" TIMESTAMPTZ(3),

    CONSTRAINT "check_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "subgroup" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "sequence" INTEGER NOT NULL,
    "check_id" INTEGER NOT NULL,
    "cans" SMALLINT[],
    "readings" DOUBLE PRECISION[],
    "n" SMALLINT NOT NULL,
    "mean" DOUBLE PRECISION,
    "range" DOUBLE PRECISION,
    "sd" DOUBLE PRECISION,
    "low" DOUBLE PRECISION,
    "high" DOUBLE PRECISION,
    "gauge_id" INTEGER,
    "formula" TEXT,
    "limits_id" INTEGER,
    "revision" SMALLINT NOT NULL DEFAULT 1,

    CONSTRAINT "subgroup_pkey" PRIMARY KEY ("plant_id","stream_id","taken_at","sequence")
);

-- CreateTable
CREATE TABLE "subgroup_revision" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "sequence" INTEGER NOT NULL,
    "revision" SMALLINT NOT NULL,
    "check_id" INTEGER NOT NULL,
    "readings" DOUBLE PRECISION[],
    "n" SMALLINT NOT NULL,
    "mean" DOUBLE PRECISION,
    "range" DOUBLE PRECISION,
    "sd" DOUBLE PRECISION,
    "replaced_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "replaced_by" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,

    CONSTRAINT "subgroup_revision_pkey" PRIMARY KEY ("plant_id","stream_id","taken_at","sequence","revision")
);

-- CreateTable
CREATE TABLE "note" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "title" TEXT NOT NULL,
    "symptom" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "how_to_check" TEXT NOT NULL,
    "fix" TEXT NOT NULL,
    "verified" TEXT NOT NULL,
    "defect" TEXT NOT NULL,
    "step_kind" TEXT NOT NULL,
    "machine_id" INTEGER,
    "author_id" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "revision" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "note_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "note_link" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "note_id" INTEGER NOT NULL,
    "signal_id" INTEGER,
    "incident_id" INTEGER,
    "score" DOUBLE PRECISION,
    "reason" TEXT NOT NULL DEFAULT '',
    "confirmed_by" INTEGER,
    "confirmed_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "note_link_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "plant" (
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "demo" BOOLEAN NOT NULL DEFAULT false,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "plant_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "line" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,

    CONSTRAINT "line_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "step" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "position" INTEGER NOT NULL,

    CONSTRAINT "step_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "machine" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "step_id" INTEGER NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "machine_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "unit" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "code" TEXT NOT NULL,
    "position" INTEGER NOT NULL,

    CONSTRAINT "unit_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "lane" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,

    CONSTRAINT "lane_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "product" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "customer" TEXT NOT NULL,
    "diameter" DOUBLE PRECISION NOT NULL,
    "height" DOUBLE PRECISION NOT NULL,
    "body_plate" DOUBLE PRECISION NOT NULL,
    "end_plate" DOUBLE PRECISION NOT NULL,
    "seam_profile" TEXT NOT NULL,
    "overlap_factor" DOUBLE PRECISION NOT NULL DEFAULT 1,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "product_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "audit_row" (
    "plant_id" INTEGER NOT NULL,
    "id" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "user_id" INTEGER,
    "actor" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,

    CONSTRAINT "audit_row_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "outbox_row" (
    "plant_id" INTEGER NOT NULL,
    "id" BIGSERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "due_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "done_at" TIMESTAMPTZ(3),
    "error" TEXT,

    CONSTRAINT "outbox_row_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "line_event" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "line_id" INTEGER NOT NULL,
    "machine_id" INTEGER,
    "kind" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "until" TIMESTAMPTZ(3),
    "text" TEXT NOT NULL,
    "actor" TEXT NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "line_event_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "production_count" (
    "plant_id" INTEGER NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "minutes" DOUBLE PRECISION NOT NULL,
    "good" INTEGER NOT NULL,
    "rejected" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "production_count_pkey" PRIMARY KEY ("plant_id","machine_id","at")
);

-- CreateTable
CREATE TABLE "signal" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "chart" TEXT NOT NULL,
    "rule" TEXT NOT NULL,
    "side" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "fired_at" TIMESTAMPTZ(3) NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_good_at" TIMESTAMPTZ(3),
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "firings" INTEGER NOT NULL DEFAULT 1,
    "seen" JSONB NOT NULL,
    "raised_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "assigned_to" INTEGER,
    "cause" TEXT,
    "closed_at" TIMESTAMPTZ(3),

    CONSTRAINT "signal_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "signal_point" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "sequence" INTEGER NOT NULL,
    "chart" TEXT NOT NULL,
    "rule" TEXT NOT NULL,
    "side" TEXT NOT NULL,
    "signal_id" INTEGER NOT NULL,

    CONSTRAINT "signal_point_pkey" PRIMARY KEY ("plant_id","stream_id","taken_at","sequence","chart","rule","side")
);

-- CreateTable
CREATE TABLE "signal_step" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "signal_id" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "user_id" INTEGER,
    "actor" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "comment" TEXT,

    CONSTRAINT "signal_step_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "characteristic" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "kind" TEXT NOT NULL DEFAULT 'variable',
    "step_kind" TEXT NOT NULL,
    "gauge_step" DOUBLE PRECISION NOT NULL,
    "decimals" INTEGER NOT NULL,
    "plausible_low" DOUBLE PRECISION,
    "plausible_high" DOUBLE PRECISION,
    "formula" TEXT,
    "chart_kind" TEXT NOT NULL DEFAULT 'xbar-r',
    "basis" TEXT NOT NULL DEFAULT 'can',

    CONSTRAINT "characteristic_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "specification" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "product_id" INTEGER NOT NULL,
    "characteristic_id" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "lsl" DOUBLE PRECISION,
    "target" DOUBLE PRECISION,
    "usl" DOUBLE PRECISION,
    "effective_from" TIMESTAMPTZ(3) NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "specification_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "stream" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "characteristic_id" INTEGER NOT NULL,
    "product_id" INTEGER NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "lane_id" INTEGER,
    "unit_id" INTEGER,
    "chart_kind" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "rules" TEXT[],
    "revision" INTEGER NOT NULL DEFAULT 0,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "stream_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "limits" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "centre" DOUBLE PRECISION NOT NULL,
    "sigma" DOUBLE PRECISION NOT NULL,
    "spread_centre" DOUBLE PRECISION NOT NULL,
    "subgroups" INTEGER NOT NULL,
    "readings" INTEGER NOT NULL,
    "baseline_from" TIMESTAMPTZ(3) NOT NULL,
    "baseline_to" TIMESTAMPTZ(3) NOT NULL,
    "excluded" JSONB NOT NULL DEFAULT '[]',
    "formula" TEXT,
    "effective_from" TIMESTAMPTZ(3) NOT NULL,
    "author_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "limits_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "check_plan" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "machine_id" INTEGER NOT NULL,
    "product_id" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "cans" INTEGER NOT NULL,
    "per_unit" BOOLEAN NOT NULL DEFAULT false,
    "per_lane" BOOLEAN NOT NULL DEFAULT false,
    "positions" TEXT[],
    "characteristics" TEXT[],
    "every_minutes" INTEGER,
    "interval_source" TEXT NOT NULL DEFAULT '',
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "check_plan_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "user" (
    "plant_id" INTEGER NOT NULL,
    "id" SERIAL NOT NULL,
    "login" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "demo_password" BOOLEAN NOT NULL DEFAULT false,
    "disabled_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "user_pkey" PRIMARY KEY ("plant_id","id")
);

-- CreateTable
CREATE TABLE "session" (
    "plant_id" INTEGER NOT NULL,
    "token_hash" TEXT NOT NULL,
    "user_id" INTEGER NOT NULL,
    "csrf" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "session_pkey" PRIMARY KEY ("plant_id","token_hash")
);

-- CreateTable
CREATE TABLE "login_failure" (
    "id" BIGSERIAL NOT NULL,
    "login" TEXT NOT NULL,
    "from" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "login_failure_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "incident_plant_id_state_received_at_idx" ON "incident"("plant_id", "state", "received_at");

-- CreateIndex
CREATE INDEX "incident_photo_plant_id_incident_id_idx" ON "incident_photo"("plant_id", "incident_id");

-- CreateIndex
CREATE INDEX "incident_step_plant_id_incident_id_idx" ON "incident_step"("plant_id", "incident_id");

-- CreateIndex
CREATE UNIQUE INDEX "gauge_plant_id_code_key" ON "gauge"("plant_id", "code");

-- CreateIndex
CREATE INDEX "check_plant_id_machine_id_taken_at_idx" ON "check"("plant_id", "machine_id", "taken_at");

-- CreateIndex
CREATE INDEX "check_plant_id_import_id_idx" ON "check"("plant_id", "import_id");

-- CreateIndex
CREATE UNIQUE INDEX "check_plant_id_key_key" ON "check"("plant_id", "key");

-- CreateIndex
CREATE INDEX "subgroup_plant_id_check_id_idx" ON "subgroup"("plant_id", "check_id");

-- CreateIndex
CREATE INDEX "subgroup_revision_plant_id_check_id_idx" ON "subgroup_revision"("plant_id", "check_id");

-- CreateIndex
CREATE INDEX "note_plant_id_changed_at_idx" ON "note"("plant_id", "changed_at");

-- CreateIndex
CREATE INDEX "note_link_plant_id_signal_id_idx" ON "note_link"("plant_id", "signal_id");

-- CreateIndex
CREATE INDEX "note_link_plant_id_incident_id_idx" ON "note_link"("plant_id", "incident_id");

-- CreateIndex
CREATE UNIQUE INDEX "note_link_identity" ON "note_link"("plant_id", "note_id", "signal_id", "incident_id") NULLS NOT DISTINCT;

-- CreateIndex
CREATE UNIQUE INDEX "line_plant_id_code_key" ON "line"("plant_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "step_plant_id_line_id_position_key" ON "step"("plant_id", "line_id", "position");

-- CreateIndex
CREATE UNIQUE INDEX "machine_plant_id_code_key" ON "machine"("plant_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "unit_plant_id_machine_id_code_key" ON "unit"("plant_id", "machine_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "lane_plant_id_line_id_code_key" ON "lane"("plant_id", "line_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "product_plant_id_code_key" ON "product"("plant_id", "code");

-- CreateIndex
CREATE INDEX "audit_row_plant_id_subject_id_idx" ON "audit_row"("plant_id", "subject", "id");

-- CreateIndex
CREATE INDEX "audit_row_plant_id_at_idx" ON "audit_row"("plant_id", "at");

-- CreateIndex
CREATE INDEX "line_event_plant_id_line_id_at_idx" ON "line_event"("plant_id", "line_id", "at");

-- CreateIndex
CREATE INDEX "signal_plant_id_state_fired_at_idx" ON "signal"("plant_id", "state", "fired_at");

-- CreateIndex
CREATE INDEX "signal_plant_id_stream_id_fired_at_idx" ON "signal"("plant_id", "stream_id", "fired_at");

-- CreateIndex
CREATE INDEX "signal_point_plant_id_signal_id_idx" ON "signal_point"("plant_id", "signal_id");

-- CreateIndex
CREATE INDEX "signal_step_plant_id_signal_id_idx" ON "signal_step"("plant_id", "signal_id");

-- CreateIndex
CREATE UNIQUE INDEX "characteristic_plant_id_code_key" ON "characteristic"("plant_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "specification_plant_id_product_id_characteristic_id_revisio_key" ON "specification"("plant_id", "product_id", "characteristic_id", "revision");

-- CreateIndex
CREATE INDEX "stream_plant_id_machine_id_idx" ON "stream"("plant_id", "machine_id");

-- CreateIndex
CREATE UNIQUE INDEX "stream_identity" ON "stream"("plant_id", "characteristic_id", "product_id", "machine_id", "lane_id", "unit_id") NULLS NOT DISTINCT;

-- CreateIndex
CREATE INDEX "limits_plant_id_stream_id_effective_from_idx" ON "limits"("plant_id", "stream_id", "effective_from");

-- CreateIndex
CREATE UNIQUE INDEX "check_plan_plant_id_machine_id_product_id_name_key" ON "check_plan"("plant_id", "machine_id", "product_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "user_plant_id_login_key" ON "user"("plant_id", "login");

-- CreateIndex
CREATE INDEX "login_failure_login_at_idx" ON "login_failure"("login", "at");

-- CreateIndex
CREATE INDEX "login_failure_from_at_idx" ON "login_failure"("from", "at");

-- AddForeignKey
ALTER TABLE "incident" ADD CONSTRAINT "incident_plant_id_product_id_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident" ADD CONSTRAINT "incident_plant_id_line_id_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_photo" ADD CONSTRAINT "incident_photo_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_signal" ADD CONSTRAINT "incident_signal_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "incident_step" ADD CONSTRAINT "incident_step_plant_id_incident_id_fkey" FOREIGN KEY ("plant_id", "incident_id") REFERENCES "incident"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check" ADD CONSTRAINT "check_plant_id_plan_id_fkey" FOREIGN KEY ("plant_id", "plan_id") REFERENCES "check_plan"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check" ADD CONSTRAINT "check_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check" ADD CONSTRAINT "check_plant_id_product_id_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "subgroup" ADD CONSTRAINT "subgroup_plant_id_stream_id_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "subgroup" ADD CONSTRAINT "subgroup_plant_id_check_id_fkey" FOREIGN KEY ("plant_id", "check_id") REFERENCES "check"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "subgroup" ADD CONSTRAINT "subgroup_plant_id_limits_id_fkey" FOREIGN KEY ("plant_id", "limits_id") REFERENCES "limits"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "note_link" ADD CONSTRAINT "note_link_plant_id_note_id_fkey" FOREIGN KEY ("plant_id", "note_id") REFERENCES "note"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "line" ADD CONSTRAINT "line_plant_id_fkey" FOREIGN KEY ("plant_id") REFERENCES "plant"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step" ADD CONSTRAINT "step_plant_id_line_id_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "machine" ADD CONSTRAINT "machine_plant_id_step_id_fkey" FOREIGN KEY ("plant_id", "step_id") REFERENCES "step"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "unit" ADD CONSTRAINT "unit_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lane" ADD CONSTRAINT "lane_plant_id_line_id_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "product" ADD CONSTRAINT "product_plant_id_fkey" FOREIGN KEY ("plant_id") REFERENCES "plant"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "line_event" ADD CONSTRAINT "line_event_plant_id_line_id_fkey" FOREIGN KEY ("plant_id", "line_id") REFERENCES "line"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "line_event" ADD CONSTRAINT "line_event_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "production_count" ADD CONSTRAINT "production_count_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "signal" ADD CONSTRAINT "signal_plant_id_stream_id_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "signal_point" ADD CONSTRAINT "signal_point_plant_id_signal_id_fkey" FOREIGN KEY ("plant_id", "signal_id") REFERENCES "signal"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "signal_step" ADD CONSTRAINT "signal_step_plant_id_signal_id_fkey" FOREIGN KEY ("plant_id", "signal_id") REFERENCES "signal"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "specification" ADD CONSTRAINT "specification_plant_id_product_id_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "specification" ADD CONSTRAINT "specification_plant_id_characteristic_id_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "specification" ADD CONSTRAINT "specification_plant_id_author_id_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stream" ADD CONSTRAINT "stream_plant_id_characteristic_id_fkey" FOREIGN KEY ("plant_id", "characteristic_id") REFERENCES "characteristic"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stream" ADD CONSTRAINT "stream_plant_id_product_id_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stream" ADD CONSTRAINT "stream_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stream" ADD CONSTRAINT "stream_plant_id_lane_id_fkey" FOREIGN KEY ("plant_id", "lane_id") REFERENCES "lane"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stream" ADD CONSTRAINT "stream_plant_id_unit_id_fkey" FOREIGN KEY ("plant_id", "unit_id") REFERENCES "unit"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "limits" ADD CONSTRAINT "limits_plant_id_stream_id_fkey" FOREIGN KEY ("plant_id", "stream_id") REFERENCES "stream"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "limits" ADD CONSTRAINT "limits_plant_id_author_id_fkey" FOREIGN KEY ("plant_id", "author_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check_plan" ADD CONSTRAINT "check_plan_plant_id_machine_id_fkey" FOREIGN KEY ("plant_id", "machine_id") REFERENCES "machine"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check_plan" ADD CONSTRAINT "check_plan_plant_id_product_id_fkey" FOREIGN KEY ("plant_id", "product_id") REFERENCES "product"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "user" ADD CONSTRAINT "user_plant_id_fkey" FOREIGN KEY ("plant_id") REFERENCES "plant"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_plant_id_user_id_fkey" FOREIGN KEY ("plant_id", "user_id") REFERENCES "user"("plant_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What the schema language does not say ------------------------------------------------------------------------------

-- The last-500 read of a chart touches this index alone (measured: 7 pages instead of 505).
CREATE INDEX "subgroup_chart" ON "subgroup" ("plant_id", "stream_id", "taken_at", "sequence") INCLUDE ("n", "mean", "range", "sd", "limits_id");

CREATE INDEX "outbox_due" ON "outbox_row" ("id") WHERE "done_at" IS NULL;
CREATE INDEX "signal_not_closed" ON "signal" ("plant_id", "stream_id") WHERE "state" <> 'closed';

-- The audit trail is append-only for everybody, the program included.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'rows of % are never changed or removed', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER "audit_row_is_append_only" BEFORE UPDATE OR DELETE ON "audit_row" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "audit_row_is_not_emptied" BEFORE TRUNCATE ON "audit_row" FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
-- A replaced value stays as it was.
CREATE TRIGGER "subgroup_revision_is_append_only" BEFORE UPDATE OR DELETE ON "subgroup_revision" FOR EACH ROW EXECUTE FUNCTION refuse_change();
-- Limits are frozen: a new row follows an old one, no row is edited.
CREATE TRIGGER "limits_are_frozen" BEFORE UPDATE OR DELETE ON "limits" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "specifications_are_revisions" BEFORE UPDATE OR DELETE ON "specification" FOR EACH ROW EXECUTE FUNCTION refuse_change();

ALTER TABLE "check" ADD CONSTRAINT "check_cans_agree" CHECK (
  cardinality("can_numbers") = cardinality("can_unit_ids") AND cardinality("can_numbers") = cardinality("can_lane_ids"));
