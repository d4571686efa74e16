import type { ReplyWords } from './reply-words.js';

/** German terms of the trade are from memory; the plant reads them before a letter counts. */
export const de: ReplyWords = {
  locale: 'de-DE', cautionTitle: 'Hinweis', notCounting: 'Entwurf: keine Antwort des Werks',
  caution: 'Diese Antwort informiert. Sie gibt keine Ware frei und hebt keine Sperre auf. Was mit gesperrter, gelieferter oder im Handel befindlicher Ware geschieht, entscheiden Menschen: das Werk und der Abfüller, jeder mit seinen Prozessverantwortlichen, nach dem Recht des Ortes und der Spezifikation des Kunden. Undichte oder unzureichend erhitzte Dosen mit schwach sauren Lebensmitteln können tödlich krank machen.',
  to: 'An: ', person: 'Name der angeschriebenen Person',
  subject: ({ complaint, day, defect, product, number }) => `${complaint ? 'Ihre Reklamation' : 'Eine eigene Feststellung an Ihren Dosen'} vom ${day}: ${defect}, ${product} (unsere Nummer ${number})`,
  reported: 'Was gemeldet wurde', cansAt: (cans, place) => `${cans === 1 ? '1 beanstandete Dose' : `${cans} beanstandete Dosen`}; Ort der Undichtheit: ${place}.`, faultAt: (place) => `Ort des Fehlers: ${place}.`,
  which: 'Welche Dosen', noCode: 'Der Code auf den Dosen war nicht lesbar.', code: (code) => `Code auf den Dosen: ${code}.`, made: (line, moment, zone) => `Hergestellt auf Linie ${line}, ${moment} (${zone}), nach dem Code und unseren Aufzeichnungen.`,
  examined: 'Was wir untersucht haben', noneExamined: 'Bisher wurde keine Dose untersucht: Wie viele undicht sind, ist nicht bekannt.',
  noneLeaked: (cans, bound) => `${cans} Dosen wurden untersucht, keine davon war undicht. Das beweist nicht, dass keine undicht ist: Wurden sie zufällig gezogen, können mit 95 % Vertrauen bis zu ${bound} der Dosen undicht sein.`,
  leaked: (cans, leaking, share) => `${cans} Dosen wurden untersucht; ${leaking} davon waren undicht (${share}). Zurückgesandte Dosen sind ausgesucht, nicht zufällig gezogen: Der Anteil unter allen Dosen ist daraus nicht bekannt.`,
  held: 'Was gesperrt wurde', heldOpen: 'was gesperrt wurde und wo', heldNote: 'Eine Sperre ist keine Entscheidung über die Ware: siehe den Hinweis unten.',
  cause: 'Ursache', causeOpen: 'die Ursache, oder dass sie noch nicht bekannt ist', causeKind: (kind, machine) => `Art der Ursache: ${kind}${machine === null ? '' : `, an ${machine}`}.`,
  kinds: { plate: 'Blech', 'tooling-wear': 'Verschleiß der Werkzeuge', setting: 'Einstellung', 'jam-or-restart': 'Stau oder Wiederanlauf', maintenance: 'Instandhaltung', handling: 'Handhabung', measurement: 'Messverfahren', instruction: 'Anweisung an das Personal', 'customer-side': 'auf Seiten des Kunden', unknown: 'nicht bekannt' },
  did: 'Was wir getan haben', didOpen: 'was bis wann getan wurde oder getan wird',
  verified: 'Wie die Wirkung geprüft wurde', notCompared: (why) => `Die Wirkung wurde nicht durch einen Vergleich von Messungen geprüft. ${why}`, notYet: 'Die Wirkung wurde noch nicht geprüft. [wann das geschieht]',
  ask: 'Worum wir Sie bitten\n[was der Kunde tun und uns senden soll]', signature: 'Name, Funktion und Unterschrift der Person, die für dieses Schreiben einsteht',
  compared: ({ characteristic, place, change, before, after, nBefore, nAfter, basis }) => `${characteristic} an ${place} wurde vor und nach dieser Änderung verglichen: ${change}. Mittelwert vorher ${before} (${nBefore} ${basis === 'cans' ? 'Mittelwerte einzelner Dosen' : 'Mittelwerte von Stichproben'}), nachher ${after} (${nAfter}).`,
  difference: (difference, low, high) => `Unterschied ${difference}, 95-%-Intervall ${low} bis ${high}.`,
  control: {
    'in-control': () => 'Nach der Änderung schlug keine Regel der Regelkarte an.', signals: ({ signalled, judged }) => `Nach der Änderung schlugen Regeln der Regelkarte bei ${signalled} von ${judged} Stichproben an.`,
    'partly-judged': ({ notJudged, checks }) => `${notJudged} von ${checks} Stichproben nach der Änderung wurden nicht nach Grenzen beurteilt.`, 'not-judged': () => 'Die Stichproben nach der Änderung wurden nicht nach Grenzen beurteilt.',
  },
  noWhy: 'Der Vergleich zeigt, ob sich die beiden Zeiten unterscheiden; warum, zeigt er allein nicht.',
  places: {
    "double seam, maker's end": 'Doppelfalz am Boden (Dosenhersteller)', "double seam, packer's end": 'Doppelfalz am Deckel (Abfüller)', juncture: 'Nahtkreuzung', 'side seam': 'Schweißnaht', flange: 'Bördel', body: 'Rumpf', end: 'Deckel', unknown: 'nicht bekannt',
  },
  defects: {
    'loose-seam': 'Loser Falz', 'low-tightness': 'Geringe Falzfestigkeit, Falten im Deckelhaken', 'short-body-hook': 'Kurzer Rumpfhaken', 'long-body-hook': 'Langer Rumpfhaken', 'short-cover-hook': 'Kurzer Deckelhaken', 'long-cover-hook': 'Langer Deckelhaken',
    'low-overlap': 'Zu geringe Überlappung', 'deep-countersink': 'Zu große Kerntiefe', 'juncture-leak': 'Undichtheit an der Nahtkreuzung', cutover: 'Überwalzte, gebrochene Falzkante', 'sharp-seam': 'Scharfe Falzkante', droop: 'Absenkung des Deckelhakens', vee: 'V-Falte, Lippe, Sporn',
    'false-seam': 'Scheinfalz', 'knocked-down-flange': 'Umgeschlagener Bördel', 'knocked-down-curl': 'Umgeschlagener Deckelrand', deadhead: 'Nicht fertig gerollter Falz', skid: 'Rutscher', 'broken-chuck-mark': 'Abdruck eines gebrochenen Falzkopfs', 'cut-seam': 'Durchgeschnittener Falz',
    'compound-squeeze-out': 'Ausgetretene Dichtmasse', 'jumped-seam': 'Falzsprung hinter der Naht', 'cold-weld': 'Kaltschweißung', 'open-weld': 'Offene oder teilweise offene Schweißnaht', splash: 'Spritzer', pinhole: 'Nadelloch, Durchbrand', 'weld-step': 'Versatz der Überlappung, Nahtfahne',
    'weld-contamination': 'Verbrennung oder Verunreinigung der Naht', 'wide-lap': 'Breite Überlappung', 'narrow-lap': 'Schmale Überlappung', 'haz-crack': 'Riss neben der Schweißnaht', 'flange-crack': 'Bördelriss', 'torn-flange': 'Eingerissener oder abgescherter Bördel', 'short-flange': 'Kurzer Bördel',
    'mushroomed-flange': 'Pilzförmiger Bördel', 'uneven-flange': 'Ungleichmäßiger Bördel', 'body-dent': 'Beule', 'cable-cut': 'Scheuerstelle vom Transportseil', 'fractured-bead': 'Gerissene Sicke', 'peaked-end': 'Ausgebeulter Deckel', 'stripe-void': 'Lücke oder Versatz der Nahtabdeckung',
    'thin-stripe': 'Dünne Nahtabdeckung', 'stripe-delamination': 'Ablösung der Nahtabdeckung', leaker: 'Undichte Dose, Ort nicht bekannt',
  },
};
