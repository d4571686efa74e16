import type { FeedTopicView, MessageMapping } from '#contract/monitors';
import type { PlantTree } from '#contract/plant';
import type { TopicBody } from './monitors.queries.js';

/** The form of a topic as it stands: every field is text, as it is typed. */
export type TopicDraft = {
  filter: string; machineId: string; productId: string; kind: MessageMapping['kind']; time: string; format: 'iso' | 'seconds' | 'milliseconds'; count: string; each: string; product: string; channels: string;
  size: string; every: string; minutes: string; good: string; rejected: string; event: string; words: string; key: string; lateHours: string; clockSeconds: string; clockPolicy: 'quarantine' | 'server-time';
};
/** What is wrong with one line of the channels; the words for it are the form's. */
export type ChannelFault = { line: number; fault: 'parts' | 'unknown'; word: string };

const NONE = ['', '-', '–'];
const orNull = (text: string): string | null => (text.trim() === '' ? null : text.trim());

export function emptyDraft(): TopicDraft {
  return { filter: '', machineId: '', productId: '', kind: 'readings', time: '/at', format: 'milliseconds', count: '/body', each: '', product: '', channels: '', size: '5', every: '650', minutes: '1', good: '/good', rejected: '', event: '/kind', words: '/text', key: '/key', lateHours: '72', clockSeconds: '300', clockPolicy: 'quarantine' };
}

function machineOf(tree: PlantTree, id: number) {
  for (const line of tree.lines) for (const step of line.steps) for (const machine of step.machines) if (machine.id === id) return { line, machine };
  return null;
}

export function draftOf(topic: FeedTopicView, tree: PlantTree): TopicDraft {
  const { mapping } = topic;
  const draft: TopicDraft = { ...emptyDraft(), filter: topic.filter, machineId: String(topic.machineId), productId: topic.productId === null ? '' : String(topic.productId), kind: mapping.kind, time: mapping.time?.pointer ?? '', format: mapping.time?.format ?? 'iso', lateHours: String(topic.lateHours), clockSeconds: String(topic.clockSeconds), clockPolicy: topic.clockPolicy };
  if (mapping.kind === 'counts') return { ...draft, minutes: String(mapping.minutes), good: mapping.good, rejected: mapping.rejected ?? '' };
  if (mapping.kind === 'line-event') return { ...draft, key: mapping.key ?? '', event: 'fixed' in mapping.event ? mapping.event.fixed : mapping.event.pointer, words: 'fixed' in mapping.text ? mapping.text.fixed : mapping.text.pointer };
  const place = machineOf(tree, topic.machineId);
  const codeOf = (list: readonly { id: number; code: string }[] | undefined, id: number | null) => (id === null ? '–' : list?.find((entry) => entry.id === id)?.code ?? '?');
  const channels = mapping.channels.map(({ value, characteristicId, laneId, unitId, factor }) => [value, codeOf(tree.characteristics, characteristicId), codeOf(place?.line.lanes, laneId), codeOf(place?.machine.units, unitId), factor].join('; '));
  return { ...draft, count: mapping.count ?? '', each: mapping.each ?? '', product: mapping.product ?? '', channels: channels.join('\n'), size: String(mapping.subgroup.size), every: String(mapping.subgroup.every) };
}

type Channels = Extract<TopicBody['mapping'], { kind: 'readings' }>['channels'];

/** The channels as they are typed, one a line, by the codes of the plant. */
export function readChannels(text: string, tree: PlantTree, machineId: number): { channels: Channels; faults: ChannelFault[] } {
  const place = machineOf(tree, machineId);
  const channels: Channels = [];
  const faults: ChannelFault[] = [];
  text.split('\n').forEach((row, index) => {
    if (row.trim() === '') return;
    const [value = '', code = '', lane = '', unit = '', factor = ''] = row.split(';').map((part) => part.trim());
    if (value === '' || code === '') {
      faults.push({ line: index + 1, fault: 'parts', word: '' });
      return;
    }
    const find = (word: string, list: readonly { id: number; code: string }[] | undefined) => {
      if (NONE.includes(word)) return null;
      const found = list?.find((entry) => entry.code.toLowerCase() === word.toLowerCase());
      if (!found) faults.push({ line: index + 1, fault: 'unknown', word });
      return found?.id ?? null;
    };
    if (factor !== '' && !(Number(factor) !== 0 && Number.isFinite(Number(factor)))) faults.push({ line: index + 1, fault: 'unknown', word: factor });
    const [characteristicId, laneId, unitId] = [find(code, tree.characteristics), find(lane, place?.line.lanes), find(unit, place?.machine.units)];
    if (characteristicId !== null) channels.push({ value, characteristicId, laneId, unitId, factor: factor === '' ? 1 : Number(factor) });
  });
  return { channels, faults };
}

/** What is sent; numbers that are none go as they are, so that the server names the field. */
export function bodyOf(draft: TopicDraft, channels: Channels): TopicBody {
  const time = orNull(draft.time) === null ? null : { pointer: draft.time.trim(), format: draft.format };
  const pointerOrFixed = (text: string) => (text.startsWith('/') ? { pointer: text.trim() } : { fixed: text.trim() });
  const mapping = (): TopicBody['mapping'] => {
    if (draft.kind === 'counts') return { kind: 'counts', time: time ?? { pointer: '', format: draft.format }, minutes: draft.minutes.startsWith('/') ? draft.minutes.trim() : Number(draft.minutes), good: draft.good.trim(), rejected: orNull(draft.rejected) };
    if (draft.kind === 'line-event') return { kind: 'line-event', time, key: orNull(draft.key), event: pointerOrFixed(draft.event), text: pointerOrFixed(draft.words) };
    return { kind: 'readings', time, count: orNull(draft.count), each: orNull(draft.each), product: orNull(draft.product), channels, subgroup: { size: Number(draft.size), every: Number(draft.every) } };
  };
  return { filter: draft.filter.trim(), machineId: Number(draft.machineId), productId: draft.productId === '' ? null : Number(draft.productId), lateHours: Number(draft.lateHours), clockSeconds: Number(draft.clockSeconds), clockPolicy: draft.clockPolicy, mapping: mapping() };
}
