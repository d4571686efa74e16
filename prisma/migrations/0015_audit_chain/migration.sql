-- CreateTable
CREATE TABLE "audit_link" (
    "plant_id" INTEGER NOT NULL,
    "seq" BIGINT NOT NULL,
    "audit_id" BIGINT NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "audit_link_pkey" PRIMARY KEY ("plant_id","seq")
);

-- CreateIndex
CREATE UNIQUE INDEX "audit_link_plant_id_audit_id_key" ON "audit_link"("plant_id", "audit_id");

-- What the schema language does not say ------------------------------------------------------------------------------

-- A row as text in which no two different rows look alike: each value with its length in bytes before it, N for NULL.
CREATE FUNCTION audit_text(entry audit_row) RETURNS text LANGUAGE sql STABLE AS $$
  SELECT string_agg(COALESCE(octet_length(value) || ':' || value, 'N'), ';' ORDER BY place)
  FROM unnest(ARRAY[
    entry.plant_id::text, entry.id::text, to_char(entry.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), entry.user_id::text,
    entry.actor, entry.action, entry.subject, entry.before::text, entry.after::text
  ]) WITH ORDINALITY AS listed(value, place)
$$;

-- Adds a row to its plant's chain. One transaction a plant at a time, and only while it commits: the trigger below is deferred.
CREATE FUNCTION link_audit_row() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE head audit_link%ROWTYPE;
BEGIN
  PERFORM pg_advisory_xact_lock(7326551, NEW.plant_id);
  SELECT * INTO head FROM audit_link WHERE plant_id = NEW.plant_id ORDER BY seq DESC LIMIT 1;
  INSERT INTO audit_link (plant_id, seq, audit_id, hash)
  VALUES (NEW.plant_id, COALESCE(head.seq, 0) + 1, NEW.id, sha256(COALESCE(head.hash, ''::bytea) || convert_to(audit_text(NEW), 'UTF8')));
  RETURN NULL;
END $$;

-- Rows from before the chain are linked in their order.
DO $$
DECLARE entry audit_row; last_plant int; last_seq bigint; last_hash bytea;
BEGIN
  FOR entry IN SELECT * FROM audit_row ORDER BY plant_id, id LOOP
    IF last_plant IS DISTINCT FROM entry.plant_id THEN last_plant := entry.plant_id; last_seq := 0; last_hash := ''::bytea; END IF;
    last_seq := last_seq + 1;
    last_hash := sha256(last_hash || convert_to(audit_text(entry), 'UTF8'));
    INSERT INTO audit_link (plant_id, seq, audit_id, hash) VALUES (entry.plant_id, last_seq, entry.id, last_hash);
  END LOOP;
END $$;

CREATE CONSTRAINT TRIGGER "audit_row_is_linked" AFTER INSERT ON "audit_row" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION link_audit_row();
CREATE TRIGGER "audit_link_is_append_only" BEFORE UPDATE OR DELETE ON "audit_link" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "audit_link_is_not_emptied" BEFORE TRUNCATE ON "audit_link" FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
