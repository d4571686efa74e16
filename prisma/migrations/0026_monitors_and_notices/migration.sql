-- AlterTable
ALTER TABLE "feed_state" ADD COLUMN     "dropped" BIGINT NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "notice_choice" ADD COLUMN     "days" SMALLINT[] DEFAULT ARRAY[1, 2, 3, 4, 5, 6, 7]::SMALLINT[];

-- CreateTable
CREATE TABLE "feed_judged_group" (
    "plant_id" INTEGER NOT NULL,
    "stream_id" INTEGER NOT NULL,
    "number" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "feed_judged_group_pkey" PRIMARY KEY ("plant_id","stream_id","number","at")
);

ALTER TABLE "notice_choice" ALTER COLUMN "days" SET NOT NULL;
ALTER TABLE "notice_choice" ADD CONSTRAINT "notice_choice_days_of_the_week" CHECK (cardinality("days") BETWEEN 1 AND 7 AND "days" <@ ARRAY[1, 2, 3, 4, 5, 6, 7]::smallint[]);
