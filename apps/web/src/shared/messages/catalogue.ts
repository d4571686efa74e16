import i18next from 'i18next';
import { initReactI18next } from 'react-i18next';
import { canMaking } from './en/can-making.js';
import { common } from './en/common.js';
import { counts } from './en/counts.js';
import { counters } from './en/counters.js';
import { feeds } from './en/feeds.js';
import { entry } from './en/entry.js';
import { floor } from './en/floor.js';
import { monitors } from './en/monitors.js';
import { holds } from './en/holds.js';
import { incidentLife } from './en/incident-life.js';
import { incidents } from './en/incidents.js';
import { ingest } from './en/ingest.js';
import { inspections } from './en/inspections.js';
import { knowledge } from './en/knowledge.js';
import { originWeights } from './en/origin-weights.js';
import { outgoing } from './en/outgoing.js';
import { packs } from './en/packs.js';
import { photos } from './en/photos.js';
import { planner } from './en/planner.js';
import { plant } from './en/plant.js';
import { portable } from './en/portable.js';
import { production } from './en/production.js';
import { queue } from './en/queue.js';
import { records } from './en/records.js';
import { retention } from './en/retention.js';
import { sessions } from './en/sessions.js';
import { signals } from './en/signals.js';
import { specifications } from './en/specifications.js';
import { studies } from './en/studies.js';
import { studyRecords } from './en/study-records.js';
import { toldHours } from './en/told-hours.js';
import { traces } from './en/traces.js';
import { users } from './en/users.js';
import { weldWindows } from './en/weld-windows.js';
import { workbench } from './en/workbench.js';

const en = { canMaking, common, counts, counters, entry, feeds, floor, holds, incidentLife, incidents, ingest, inspections, knowledge, monitors, originWeights, outgoing, packs, photos, planner, plant, portable, production, queue, records, retention, sessions, signals, specifications, studies, studyRecords, toldHours, traces, users, weldWindows, workbench };

// A key that is not in the catalogue does not compile.
declare module 'i18next' {
  interface CustomTypeOptions {
    defaultNS: 'common';
    resources: typeof en;
  }
}

void i18next.use(initReactI18next).init({ lng: 'en', fallbackLng: 'en', defaultNS: 'common', resources: { en }, interpolation: { escapeValue: false }, initAsync: false });
