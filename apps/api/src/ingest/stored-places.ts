import type { Tx } from '../platform/work.js';
import { listStoredPlaces } from './ingest.store.js';
import type { StoredOf } from './sort-rows.js';

/** Looks up what the plant holds at the moments of a file. */
export const storedPlacesOf = (tx: Tx, plantId: number): StoredOf => async (moments) => (await listStoredPlaces(tx, plantId, moments)).map((row) => ({
  machineId: row.machine_id, productId: row.product_id, takenAt: row.taken_at.toISOString(), unitId: row.unit_id, laneId: row.lane_id, can: row.can,
  characteristicId: row.characteristic_id, position: row.position, value: row.value, checkId: row.check_id, key: row.key,
}));
