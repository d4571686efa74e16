import * as approvals from './approvals.js';
import * as canCodes from './can-codes.js';
import * as counters from './counters.js';
import * as checkPhotos from './check-photos.js';
import * as checkPlans from './check-plans.js';
import * as capabilityStudies from './capability-studies.js';
import * as dueChecks from './due-checks.js';
import type { Endpoint } from './endpoint.js';
import * as everyBody from './every-body.js';
import * as feeds from './feeds.js';
import * as gaugeCalibrations from './gauge-calibrations.js';
import * as gaugeStudies from './gauge-studies.js';
import * as monitors from './monitors.js';
import * as holds from './holds.js';
import * as records from './records.js';
import * as incidentLife from './incident-life.js';
import * as incidents from './incidents.js';
import * as ingest from './ingest.js';
import * as inspections from './inspections.js';
import * as knowledge from './knowledge.js';
import * as originWeights from './origin-weights.js';
import * as outgoing from './outgoing.js';
import * as packs from './packs.js';
import * as planner from './planner.js';
import * as plant from './plant.js';
import * as plantSetUp from './plant-set-up.js';
import * as platform from './platform.js';
import * as portable from './portable.js';
import * as production from './production.js';
import * as reactionPlans from './reaction-plans.js';
import * as retention from './retention.js';
import * as sessions from './sessions.js';
import * as shifts from './shifts.js';
import * as signals from './signals.js';
import * as similar from './similar.js';
import * as specifications from './specifications.js';
import * as studies from './studies.js';
import * as synonyms from './synonyms.js';
import * as traces from './traces.js';
import * as users from './users.js';
import * as wall from './wall.js';
import * as weldWindows from './weld-windows.js';
import * as association from './workbench/association.js';
import * as capability from './workbench/capability.js';
import * as charts from './workbench/charts.js';
import * as choosing from './workbench/choosing.js';
import * as gauges from './workbench/gauges.js';
import * as power from './workbench/power.js';
import * as rules from './workbench/rules.js';
import * as runs from './workbench/runs.js';
import * as sampling from './workbench/sampling.js';

const features = { plant, specifications, planner, production, inspections, signals, incidents, incidentLife, knowledge, synonyms, studies, traces, users, ingest, platform, canCodes, feeds, holds, records, counters, charts, rules, choosing, capability, gauges, power, sampling, association, runs, checkPlans, dueChecks, reactionPlans, shifts, similar, wall, outgoing, monitors, packs, retention, sessions, capabilityStudies, gaugeCalibrations, gaugeStudies, portable, approvals, plantSetUp, weldWindows, originWeights, checkPhotos, everyBody };

const isEndpoint = (value: unknown): value is Endpoint => typeof value === 'object' && value !== null && 'method' in value && 'path' in value && 'access' in value;

/** Every endpoint that a contract file exports, with its name: the register for routing tests and the OpenAPI document. */
export const allEndpoints: readonly { name: string; endpoint: Endpoint }[] = Object.values(features)
  .flatMap((feature) => Object.entries(feature))
  .flatMap(([name, value]) => (isEndpoint(value) ? [{ name, endpoint: value }] : []));
