export type CalendarEvent = { uid: string; start: Date; end: Date; changed: Date; summary: string; description: string };

/** RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped; other control characters have no place in a text. */
const escapeText = (text: string): string => text.replace(/\\/g, '\\\\').replace(/;/g, '\\;').replace(/,/g, '\\,').replace(/\r\n|\r|\n/g, '\\n').replace(/(?!\t)\p{Cc}/gu, '');
/** RFC 5545, 3.3.5, form 2: UTC. */
const utc = (moment: Date): string => `${moment.toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`;

/** RFC 5545, 3.1: at most 75 octets a line without its end; the rest follows after CRLF and a space. Characters stay whole. */
export function foldLine(line: string): string {
  const parts: string[] = [];
  let [part, octets] = ['', 0];
  for (const character of line) {
    const size = Buffer.byteLength(character);
    if (octets + size > 75) {
      parts.push(part);
      [part, octets] = ['', 1];
    }
    part += character;
    octets += size;
  }
  return [...parts, part].join('\r\n ');
}

/** A calendar of the events, with CRLF at each line's end. A UID stays the same for the same check, so that a calendar moves an entry and does not double it. */
export function writeCalendar(name: string, events: readonly CalendarEvent[]): string {
  const lines = [
    'BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Seamledger//Due checks//EN', 'CALSCALE:GREGORIAN', 'METHOD:PUBLISH', `NAME:${escapeText(name)}`, 'REFRESH-INTERVAL;VALUE=DURATION:PT15M',
    ...events.flatMap(({ uid, start, end, changed, summary, description }) => [
      'BEGIN:VEVENT', `UID:${uid}@seamledger.invalid`, `DTSTAMP:${utc(changed)}`, `DTSTART:${utc(start)}`, `DTEND:${utc(end)}`, `SUMMARY:${escapeText(summary)}`, `DESCRIPTION:${escapeText(description)}`, 'TRANSP:TRANSPARENT', 'END:VEVENT',
    ]),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${foldLine(line)}\r\n`).join('');
}
