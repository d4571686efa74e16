-- When the span of a production count ended. Adding to a moment with a time zone is only "stable" to PostgreSQL, because a zone may change its clocks; in UTC it is immutable, which an index needs.
CREATE FUNCTION count_ended("at" timestamptz, "minutes" float8) RETURNS timestamptz LANGUAGE sql IMMUTABLE PARALLEL SAFE
  RETURN (("at" AT TIME ZONE 'UTC') + make_interval(secs => "minutes" * 60)) AT TIME ZONE 'UTC';

-- Spans with cans that reach past a moment, from the index alone: running time since a check is summed with every look at the Now board.
CREATE INDEX "production_count_ended" ON "production_count" ("plant_id", "machine_id", count_ended("at", "minutes")) INCLUDE ("at", "minutes", "good", "rejected") WHERE "good" + "rejected" > 0;
