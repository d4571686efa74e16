import { expect, it } from 'vitest';
import { decode } from '#canmaking/can-code/decode';
import { parsePattern } from '#canmaking/can-code/parse-pattern';
import { canCode } from './can-code.js';
import { seedCanCodePatterns } from './can-code-patterns.js';
import { plantCalendar } from './calendar.js';
import { seedIncidents } from './incidents.js';
import { seedPlant } from './plant.js';

it('the patterns of the plant read every code of its incidents as the minute in which the can was made, and its half', () => {
  // The clock goes back inside these ninety days.
  const calendar = plantCalendar({ endsAt: Date.parse('2025-12-01T12:00:00Z'), days: 90 });
  for (const incident of seedIncidents) {
    const line = seedPlant.lines.find(({ code }) => code === incident.lineCode);
    const parsed = parsePattern(seedCanCodePatterns.find(({ lineCode }) => lineCode === incident.lineCode)?.pattern ?? '');
    if (!line || !parsed.ok) throw new Error(incident.code);
    const at = calendar.at(incident.madeAt.day, incident.madeAt.hour);
    const lanes = line.lanes.map(({ code }, index) => ({ id: index + 1, code }));
    // Where the half is not known, the code of either half stands for it.
    const laneCode = incident.laneCode ?? lanes[0]?.code ?? null;
    const { meanings } = decode(parsed.pattern, canCode(line.code, laneCode, at, seedPlant.timeZone), {
      timeZone: seedPlant.timeZone, before: calendar.at(incident.receivedAt.day, incident.receivedAt.hour), firstRecord: null, line: { id: 1, code: line.code, lanes, machines: [] }, printedAtStepId: 1, shifts: [],
    });
    const hit = meanings.find(({ from, until }) => from <= at && at < until);
    expect(hit && { minutes: (hit.until - hit.from) / 60_000, lane: lanes.find(({ id }) => id === hit.laneId)?.code ?? null }, incident.code).toEqual({ minutes: 1, lane: laneCode });
  }
});
