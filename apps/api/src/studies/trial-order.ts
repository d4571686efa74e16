import { randomNumbers } from '#statistics/numeric/random-numbers';

export type PlannedTrial = { person: number; part: number; repeat: number };
export type TakenTrial = PlannedTrial & { value: number };

/**
 * The order in which readings are taken: one round a repeat, so that nobody meets a part again before all others; in
 * each round the people in random order, and each with the parts in a random order of their own. Random order: Fisher,
 * The Design of Experiments (1935). The same seed gives the same order. People, parts and repeats count from 0.
 * @throws RangeError when a count is not a whole number above 0, the seed is not whole, or nested parts do not share out evenly
 */
export function trialOrder({ people, parts, repeats, nested, seed }: { people: number; parts: number; repeats: number; nested: boolean; seed: number }): PlannedTrial[] {
  for (const [name, value] of [['people', people], ['parts', parts], ['repeats', repeats]] as const) {
    if (!Number.isInteger(value) || value < 1) throw new RangeError(`trialOrder: needs a whole number of ${name} above 0, ${value} given`);
  }
  if (!Number.isInteger(seed)) throw new RangeError(`trialOrder: needs a whole seed, ${seed} given`);
  if (nested && parts % people !== 0) throw new RangeError(`trialOrder: needs as many parts for each of ${people} people, ${parts} given`);
  const random = randomNumbers(seed);
  const dealt = shuffled(parts, random);
  const each = parts / people;
  const partsOf = (person: number) => (nested ? dealt.slice(person * each, (person + 1) * each) : dealt);
  const trials: PlannedTrial[] = [];
  const latest = new Map<number, number>();
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    for (const person of shuffled(people, random)) {
      const own = partsOf(person);
      const order = shuffled(own.length, random).map((place) => own[place] as number);
      // The last part of a round is not the first of the next: it would be remembered.
      if (order.length > 1 && order[0] === latest.get(person)) order.push(order.shift() as number);
      latest.set(person, order.at(-1) as number);
      for (const part of order) trials.push({ person, part, repeat });
    }
  }
  return trials;
}

function shuffled(count: number, random: () => number): number[] {
  const places = Array.from({ length: count }, (_, place) => place);
  for (let i = count - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [places[i], places[j]] = [places[j] as number, places[i] as number];
  }
  return places;
}
