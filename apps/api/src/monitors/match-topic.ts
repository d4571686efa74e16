/**
 * Whether a topic name is of a topic filter, by section 4.7 of the MQTT standard (OASIS, version 5.0): `+` is one level,
 * `#` all that follow and the level above; neither reaches topics that begin with `$`.
 */
export function matchesTopic(filter: string, topic: string): boolean {
  const wanted = filter.split('/');
  const levels = topic.split('/');
  if (topic.startsWith('$') && (wanted[0] === '+' || wanted[0] === '#')) return false;
  for (let place = 0; place < wanted.length; place += 1) {
    if (wanted[place] === '#') return true;
    if (place >= levels.length || (wanted[place] !== '+' && wanted[place] !== levels[place])) return false;
  }
  return wanted.length === levels.length;
}

/** Whether a topic name exists that both filters take. */
export function filtersMeet(one: string, other: string): boolean {
  const [a, b] = [one.split('/'), other.split('/')];
  for (let place = 0; place < Math.max(a.length, b.length); place += 1) {
    if (a[place] === '#' || b[place] === '#') return true;
    if (a[place] === undefined || b[place] === undefined) return false;
    if (a[place] !== '+' && b[place] !== '+' && a[place] !== b[place]) return false;
  }
  return true;
}
