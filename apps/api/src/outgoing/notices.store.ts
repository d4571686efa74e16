import type { NoticeChoice } from '#contract/outgoing';
import type { Tx } from '../platform/work.js';
import { HOURS, type HoursRow, hoursOfRow, rowOfHours } from './told-hours.store.js';

type Row = HoursRow & { userId: number; address: string; signals: boolean; overdue: boolean; digestMinutes: number | null };
export type ChoiceOf = NoticeChoice & { userId: number };
const viewOf = ({ userId, address, signals, overdue, digestMinutes, ...hours }: Row): ChoiceOf => ({ userId, address, signals, overdue, digestMinutes, ...hoursOfRow(hours) });

/** Of people who are not disabled. */
export async function listChoices(tx: Tx, plantId: number): Promise<ChoiceOf[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT c.user_id AS "userId", c.address, c.signals, c.overdue, c.digest_minutes AS "digestMinutes", ${HOURS}
    FROM notice_choice c JOIN "user" u ON u.plant_id = c.plant_id AND u.id = c.user_id WHERE c.plant_id = ${plantId} AND u.disabled_at IS NULL ORDER BY c.user_id`;
  return rows.map(viewOf);
}

export async function saveChoice(tx: Tx, plantId: number, userId: number, { shift, shifts, days, quiet, ...choice }: NoticeChoice, now: Date): Promise<void> {
  const data = { ...choice, ...rowOfHours({ shift, shifts, days, quiet }), changedAt: now };
  await tx.noticeChoice.upsert({ where: { plantId_userId: { plantId, userId } }, create: { plantId, userId, ...data }, update: data });
}

/** Ends what is waiting too: notices are forgotten, e-mails that were not sent yet are dropped. */
export async function deleteChoice(tx: Tx, plantId: number, userId: number): Promise<void> {
  await tx.noticeChoice.deleteMany({ where: { plantId, userId } });
  await tx.notice.deleteMany({ where: { plantId, userId, mailId: null } });
  await tx.mail.updateMany({ where: { plantId, userId, state: 'waiting' }, data: { state: 'dropped' } });
}

export async function insertNotices(tx: Tx, plantId: number, notices: readonly { userId: number; eventKey: string; topic: string; text: string; path: string; at: Date }[]): Promise<void> {
  await tx.notice.createMany({ data: notices.map((notice) => ({ plantId, ...notice })), skipDuplicates: true });
}

export const countWaiting = (tx: Tx, plantId: number, userId: number): Promise<number> => tx.notice.count({ where: { plantId, userId, mailId: null } });

export type Person = ChoiceOf & { plantId: number; plant: string; timeZone: string };
export type PlaceInList = { plantId: number; userId: number };
/** The next people with something waiting, up to `take`, locked: another process that gathers passes over them. `after`: whoever came last before. */
export async function lockPeopleWaiting(tx: Tx, after: PlaceInList, take: number): Promise<Person[]> {
  const rows = await tx.$queryRaw<(Row & { plantId: number; plant: string; timeZone: string })[]>`
    SELECT c.plant_id AS "plantId", p.name AS plant, p.time_zone AS "timeZone", c.user_id AS "userId", c.address, c.signals, c.overdue, c.digest_minutes AS "digestMinutes", ${HOURS}
    FROM notice_choice c JOIN plant p ON p.id = c.plant_id JOIN "user" u ON u.plant_id = c.plant_id AND u.id = c.user_id AND u.disabled_at IS NULL
    WHERE EXISTS (SELECT 1 FROM notice n WHERE n.plant_id = c.plant_id AND n.user_id = c.user_id AND n.mail_id IS NULL) AND (c.plant_id, c.user_id) > (${after.plantId}::int, ${after.userId}::int) ORDER BY c.plant_id, c.user_id LIMIT ${take} FOR UPDATE OF c SKIP LOCKED`;
  return rows.map(({ plantId, plant, timeZone, ...row }) => ({ ...viewOf(row), plantId, plant, timeZone }));
}

export function listWaiting(tx: Tx, plantId: number, userId: number) {
  return tx.notice.findMany({ where: { plantId, userId, mailId: null }, orderBy: { id: 'asc' } });
}

/** When the person's last e-mail was made, and when each topic was last in one of those made after `since`. */
export async function lastTold(tx: Tx, plantId: number, userId: number, since: Date): Promise<{ mailAt: Date | null; topics: Map<string, Date> }> {
  const rows = await tx.$queryRaw<{ topic: string; at: Date }[]>`
    SELECT n.topic, max(m.made_at) AS at FROM notice n JOIN mail m ON m.plant_id = n.plant_id AND m.id = n.mail_id WHERE m.plant_id = ${plantId} AND m.user_id = ${userId} AND m.made_at > ${since} GROUP BY n.topic`;
  const mail = await tx.mail.findFirst({ where: { plantId, userId }, orderBy: { id: 'desc' }, select: { madeAt: true } });
  return { mailAt: mail?.madeAt ?? null, topics: new Map(rows.map(({ topic, at }) => [topic, at])) };
}

export async function insertMail(tx: Tx, plantId: number, mail: { userId: number; address: string; subject: string; body: string; madeAt: Date }, noticeIds: readonly number[]): Promise<number> {
  const { id } = await tx.mail.create({ data: { plantId, ...mail }, select: { id: true } });
  await tx.notice.updateMany({ where: { plantId, id: { in: [...noticeIds] } }, data: { mailId: id } });
  return id;
}

export const findMail = (tx: Tx, plantId: number, id: number) => tx.mail.findUnique({ where: { plantId_id: { plantId, id } } });
export async function updateMail(tx: Tx, plantId: number, id: number, change: { state?: string; attempts?: number; error?: string | null; sentAt?: Date }): Promise<void> {
  await tx.mail.updateMany({ where: { plantId, id }, data: change });
}

/** True for the one who tells it first. */
export async function insertOverdueTold(tx: Tx, plantId: number, planId: number, since: string, now: Date): Promise<boolean> {
  return (await tx.$executeRaw`INSERT INTO overdue_told (plant_id, plan_id, since, at) VALUES (${plantId}, ${planId}, ${since}, ${now}) ON CONFLICT DO NOTHING`) > 0;
}
