import { expect, it } from 'vitest';
import { findDefect, leakPlaces } from '#canmaking/defects/taxonomy';
import { plantCalendar } from './calendar.js';
import { canCode } from './can-code.js';
import { faultTruths, type Moment } from './faults.js';
import { seedIncidentLives } from './incident-lives.js';
import { seedIncidents } from './incidents.js';
import { seedNotes } from './notes.js';
import { findMachine, lineOfMachine, seedPlant } from './plant.js';

const hours = ({ day, hour }: Moment) => day * 24 + hour;
const logins = new Set(seedPlant.users.map(({ login }) => login));
const end = 89 * 24 + 15.5;

it('tells thirty root causes in full', () => {
  expect(seedNotes).toHaveLength(30);
  expect(new Set(seedNotes.map(({ title }) => title)).size).toBe(30);
  for (const note of seedNotes) {
    expect(findDefect(note.defectCode), note.title).not.toBeNull();
    expect(logins.has(note.author), note.title).toBe(true);
    for (const text of [note.symptom, note.cause, note.howToCheck, note.fix, note.verified]) expect(text.length, note.title).toBeGreaterThan(25);
    if (note.machineCode !== null) {
      const step = lineOfMachine(note.machineCode).steps.find(({ machines }) => machines.some(({ code }) => code === note.machineCode));
      expect(step?.kind, note.title).toBe(note.stepKind);
    }
  }
});

it('has twelve incidents, two of them open, each about things that exist', () => {
  expect(seedIncidents).toHaveLength(12);
  expect(seedIncidents.filter(({ state }) => state === 'open').map(({ code }) => code)).toEqual(['INC-11', 'INC-12']);
  for (const incident of seedIncidents) {
    const product = seedPlant.products.find(({ code }) => code === incident.productCode);
    const line = seedPlant.lines.find(({ code }) => code === incident.lineCode);
    expect(product?.customer, incident.code).toBe(incident.customer);
    expect(line?.productCode, incident.code).toBe(incident.productCode);
    expect(leakPlaces, incident.code).toContain(incident.leakPlace);
    expect(findDefect(incident.defectCode), incident.code).not.toBeNull();
    expect(logins.has(incident.loggedBy), incident.code).toBe(true);
    expect(incident.cansLeaking, incident.code).toBeLessThanOrEqual(incident.cansExamined);
    for (const title of incident.noteTitles) expect(seedNotes.map((note) => note.title), incident.code).toContain(title);
    expect(incident.state === 'closed', incident.code).toBe(incident.closedAt !== null && incident.cause !== '' && incident.closingNote !== '');
  }
});

it('runs in order: made, received, closed, then the note, never on a rest day and never after the end', () => {
  const calendar = plantCalendar({ endsAt: 0, days: 90 });
  for (const { faultCode, closedAt, noteTitles, code } of seedIncidents) {
    if (faultCode === null || closedAt === null) continue;
    const first = seedNotes.find(({ title }) => title === noteTitles[0]);
    expect(end - (first?.daysAgo ?? Number.POSITIVE_INFINITY) * 24, code).toBeGreaterThan(hours(closedAt));
  }
  for (const incident of seedIncidents) {
    const { madeAt, receivedAt, closedAt } = incident;
    expect(hours(madeAt), incident.code).toBeLessThan(hours(receivedAt));
    expect(hours(receivedAt), incident.code).toBeLessThan(end);
    if (closedAt !== null) expect(hours(receivedAt), incident.code).toBeLessThan(hours(closedAt));
    expect(calendar.isRunningDay(madeAt.day), incident.code).toBe(true);
    expect(madeAt.hour, incident.code).toBeLessThan(16);
  }
});

it('blames each fault that is over in exactly one incident, with cans made while it lasted and known before the complaint', () => {
  for (const fault of faultTruths) {
    const about = seedIncidents.filter(({ faultCode }) => faultCode === fault.code);
    expect(about.map(({ code }) => code), fault.code).toEqual(fault.complaintIncident === null ? [] : [fault.complaintIncident]);
    for (const { madeAt, receivedAt, lineCode } of about) {
      expect(lineCode, fault.code).toBe(fault.lineCode);
      expect(hours(madeAt), fault.code).toBeGreaterThan(hours(fault.begins));
      expect(hours(madeAt), fault.code).toBeLessThan(fault.ends === null ? end : hours(fault.ends));
      expect(hours(receivedAt), fault.code).toBeGreaterThan(hours(madeAt));
    }
    for (const unit of fault.unitCodes ?? []) expect(findMachine(fault.machineCode).units.map(({ code }) => code)).toContain(unit);
    expect(lineOfMachine(fault.machineCode).code).toBe(fault.lineCode);
  }
});

it('prints the code in the time of the plant, across a new year too', () => {
  expect(canCode('L1', 'A', Date.parse('2025-07-01T12:05:00Z'), 'Europe/Lisbon')).toBe('L1 25182 1305 A');
  expect(canCode('L2', null, Date.parse('2025-01-01T00:04:00Z'), 'Europe/Lisbon')).toBe('L2 25001 0004');
});

it('tells the life of every incident once, with steps that agree with it and things that exist', () => {
  expect(seedIncidentLives.map(({ incident }) => incident)).toEqual(seedIncidents.map(({ code }) => code));
  for (const life of seedIncidentLives) {
    const incident = seedIncidents.find(({ code }) => code === life.incident);
    expect(life.state === 'closed', life.incident).toBe(incident?.state === 'closed');
    if (life.causeMachineCode !== null) expect(lineOfMachine(life.causeMachineCode).code, life.incident).toBe(incident?.lineCode);
    if (life.state === 'closed') expect([life.comparison === null, life.causeCategory !== null], life.incident).toEqual([life.closedWithout !== '', true]);
    if (life.comparison) {
      const { before, after, changedAt } = life.comparison;
      expect([hours(before.from) < hours(before.to), hours(before.to) <= hours(changedAt), hours(changedAt) <= hours(after.from), hours(after.from) < hours(after.to)], life.incident).toEqual([true, true, true, true]);
      // The comparison was kept before the incident was closed, and so was all that it looks at.
      expect(hours(after.to), life.incident).toBeLessThan(hours(incident?.receivedAt ?? { day: 0, hour: 0 }) + 0.95 * (hours(incident?.closedAt ?? { day: 0, hour: 0 }) - hours(incident?.receivedAt ?? { day: 0, hour: 0 })));
    }
  }
});
