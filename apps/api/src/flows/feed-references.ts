import { implausible } from '#canmaking/plausibility';
import { type MappedMessage, MessageFault } from '../monitors/map-message.js';
import type { RunnableTopic } from '../monitors/monitors.store.js';
import type { Tx } from '../platform/work.js';
import { loadMasterData } from './master-data.js';

type Readings = Extract<MappedMessage, { kind: 'readings' }>;

/** What messages name, looked up in the plant's master data. Each refusal is a MessageFault in words for the quarantine. */
export type FeedReferences = {
  productId(topic: RunnableTopic, code: string | null): number;
  refuseUnknownProduct(topic: RunnableTopic, readings: Readings): void;
  refuseImplausible(topic: RunnableTopic, readings: Readings): void;
};

export async function feedReferences(tx: Tx, plantId: number): Promise<FeedReferences> {
  const { products, characteristics } = await loadMasterData(tx, plantId);
  const byCode = new Map([...products.values()].map(({ code, id }) => [code, id]));
  const byId = new Map([...characteristics.values()].map((characteristic) => [characteristic.id, characteristic]));
  const productId = (topic: RunnableTopic, code: string | null): number => {
    const id = code === null ? topic.productId : byCode.get(code);
    if (id === undefined || id === null) throw new MessageFault(`"${code}" is no product of this plant`);
    return id;
  };
  return {
    productId,
    refuseUnknownProduct: (topic, { bodies }) => { for (const { product } of bodies) productId(topic, product); },
    refuseImplausible(topic, { bodies }) {
      const channels = topic.mapping.kind === 'readings' ? topic.mapping.channels : [];
      channels.forEach(({ characteristicId, value: at }, index) => {
        const known = byId.get(characteristicId);
        if (!known || (known.plausibleLow === null && known.plausibleHigh === null)) return;
        for (const { values } of bodies) {
          const value = values[index];
          if (value === null || value === undefined || !implausible(value, { low: known.plausibleLow, high: known.plausibleHigh, gaugeStep: null })) continue;
          throw new MessageFault(`${at}: ${known.name} of ${value} is outside what the can or the gauge allows (${known.plausibleLow ?? 'any'} to ${known.plausibleHigh ?? 'any'}): take it as measured, or correct the mapping`);
        }
      });
    },
  };
}
