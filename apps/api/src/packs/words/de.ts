import type { PackWords } from './en.js';

export const de: PackWords = {
  lang: 'de', decimal: ',',
  title: 'Auditmappe', page: 'Seite {page} von {pages}', unit: 'Einheit', none: 'keine', yes: 'ja', no: 'nein',
  caution: 'Diese Mappe informiert. Sie gibt keine Ware frei: Über Sperren, Freigeben, Verschrotten und Abweichungen vom Prozess entscheiden die Prozessverantwortlichen des Werks, das örtliche Recht und die Spezifikation des Kunden. Kein Mindestindex ist Gesetz.',
  order: 'In der Reihenfolge des Nachweises: Messsystem, Stabilität, Verteilung, Fähigkeit. Ein Index eines Prozesses, der nicht als stabil gezeigt ist, ist kein Nachweis.',
  sections: {
    scope: 'Umfang', specification: 'Spezifikation', measurement: 'Messsystem', stability: 'Stabilität', distribution: 'Verteilung', capability: 'Fähigkeit', signals: 'Signale und was getan wurde',
    incidents: 'Vorfälle und Nachweis der Wirkung', missed: 'Fehlende Prüfungen', changes: 'Änderungen im Zeitraum', signatures: 'Unterschriften', method: 'Methode und Quellen', findings: 'Was erklärt werden muss', annex: 'Anhang: alles, was erklärt werden muss',
  },
  annexNote: 'Hier nach Art gezählt; der Anhang am Ende nennt jede Feststellung.',
  findingKinds: {
    'no-data': 'Keine Messwerte', 'not-stable': 'Nicht stabil', 'not-judged': 'Punkte nicht nach festen Grenzen beurteilt', 'signal-without-cause': 'Signale ohne Ursache', 'missed-checks': 'Fehlende Prüfungen', 'few-data': 'Zu wenige Stichproben', 'below-threshold': 'Kennwerte unter der Schwelle des Kunden', 'no-gauge-study': 'Keine Messsystemstudie', 'gauge-study-failed': 'Messgerät nicht geeignet', 'gauge-unknown': 'Messgerät nicht genannt', 'calibration-overdue': 'Außerhalb der Kalibrierung gemessen', 'no-specification': 'Keine Spezifikation', 'specification-changed': 'Spezifikation im Zeitraum geändert', unsigned: 'Nicht durch eine zweite Person geprüft',
  },
  rules: { 'beyond-limits': 'außerhalb der Grenzen', 'two-of-three': 'zwei von drei', 'four-of-five': 'vier von fünf', 'eight-in-a-row': 'acht in Folge', 'nine-in-a-row': 'neun in Folge', 'six-in-a-trend': 'sechs in einem Trend', 'fourteen-alternating': 'vierzehn abwechselnd', 'fifteen-inside': 'fünfzehn innerhalb eines Sigma', 'eight-outside': 'acht außerhalb eines Sigma' },
  sides: { above: 'oben', below: 'unten', both: 'beidseits' },
  facts: {
    customer: 'Kunde', plant: 'Werk', products: 'Produkte', period: 'Zeitraum', zone: 'Zeiten in der Zone', confidence: 'Vertrauensniveau', madeAt: 'Festgehalten am', madeBy: 'Von', version: 'Programmversion', hash: 'SHA-256 über Eingaben und Ergebnisse',
    head: 'Kopf der Protokollkette', characteristics: 'Merkmale', readings: 'Messwerte', thresholds: 'Nach der Vorlage des Kunden verlangt', pack: 'Mappe',
  },
  until: 'bis, nicht eingeschlossen', thresholdText: 'Cpk mindestens {cpk}, Ppk mindestens {ppk}, mindestens {subgroups} Stichproben', noFindings: 'Es wurde nichts gefunden, das erklärt werden muss.',
  findings: {
    'no-data': 'kein Messwert im Zeitraum', 'not-stable': 'nicht stabil (Signale: {count})', 'not-judged': '{count} Punkte nicht nach festen Grenzen beurteilt', 'signal-without-cause': 'Signal {signal} vom {at} ohne Ursache', 'missed-checks': '{count} Prüfungen fehlen, die erste nach {at}',
    'few-data': '{count} Stichproben, {needed} verlangt', 'below-threshold': '{value}, {needed} verlangt', 'no-gauge-study': 'keine Messsystemstudie in dieser Mappe', 'gauge-study-failed': 'die am {at} freigegebene Messsystemstudie nennt das Messgerät nicht geeignet', 'gauge-unknown': '{count} Stichproben ohne genanntes Messgerät', 'calibration-overdue': '{count} Stichproben außerhalb der Kalibrierung (zuerst fällig {at})',
    'no-specification': 'keine gültige Spezifikation', 'specification-changed': 'Spezifikation im Zeitraum geändert ({count}-mal, zuletzt {at})', unsigned: '{count} von {needed} Prüfungen nicht durch eine zweite Person geprüft',
  },
  columns: {
    characteristic: 'Merkmal', revision: 'Stand', lsl: 'UGW', target: 'Sollwert', usl: 'OGW', from: 'Gültig ab', reason: 'Grund', by: 'Von', gauge: 'Messgerät', resolution: 'Auflösung', due: 'Kalibrierung fällig', subgroups: 'Stichproben', overdue: 'Außer Kalibrierung',
    stream: 'Strom', state: 'Zustand', rules: 'Regeln', judged: 'Beurteilt', notJudged: 'Nicht beurteilt', signals: 'Signale', n: 'n', mean: 'Mittelwert', sdWithin: 'Sigma innerhalb', sdOverall: 'Streuung gesamt', min: 'Kleinster', max: 'Größter', a2: 'Anderson-Darling A²', p: 'p', wording: 'Lesart von p',
    index: 'Index', value: 'Wert', low: '95 % von', high: '95 % bis', at: 'Zeit', rule: 'Regel', cause: 'Ursache', action: 'Was getan wurde', machine: 'Maschine', plan: 'Prüfplan', missed: 'Fehlend', until: 'Bis', kind: 'Art', text: 'Text', record: 'Aufzeichnung', meaning: 'Bedeutung', name: 'Name', role: 'Rolle', comment: 'Bemerkung', about: 'Betrifft', finding: 'Feststellung', count: 'Anzahl', limit: 'Grenzen',
  },
  states: { stable: 'stabil', 'not-stable': 'nicht stabil', 'not-judged': 'nicht beurteilt' },
  wording: { 'may-be-normal': 'Normalverteilung nicht widerlegt', 'not-normal': 'nicht normalverteilt' },
  chart: { mean: 'Mittelwerte', individual: 'Einzelwerte', range: 'Spannweiten', sd: 'Standardabweichungen', 'moving-range': 'Gleitende Spannweiten', inForce: 'feste Grenzen {id} gültig', ofPeriod: 'Grenzen aus diesem Zeitraum berechnet, nur zur Information; keine festen Grenzen gültig', none: 'keine Grenzen: die Messwerte ergeben keine', beyond: 'Dreieck = jenseits einer Grenze', alt: 'Regelkarte von {stream}: {points} Punkte, {out} jenseits einer Grenze', histogram: 'Histogramm von {stream}: {n} Werte von {min} bis {max}', upper: 'OEG', lower: 'UEG', centre: 'Mitte' },
  periodLine: 'Aus diesem Zeitraum: Mitte {centre}, Sigma {sigma}, mittlere {spread} {spreadCentre}; Grenzen für n = {n}: {lower} bis {upper}; {spread}: {spreadLower} bis {spreadUpper}.',
  spreads: { 'xbar-r': 'Spannweite', 'xbar-s': 'Standardabweichung', 'i-mr': 'gleitende Spannweite' }, pooled: 'alle Ströme zusammen', whole: 'ganze Maschine', approvedStudy: 'Freigegebene Messsystemstudie {id}, {title}: {gauge}, {characteristic}; {study} der Streuung der Studie, {tolerance} der Toleranz, Kappa {kappa}; {verdict}. Freigegeben {at}.', verdicts: { acceptable: 'geeignet', conditional: 'bedingt geeignet', 'not-acceptable': 'nicht geeignet' }, byEye: 'mit dem Auge', noGauge: 'Zu diesen Messwerten ist kein Messgerät genannt.', gaugeStudy: 'Messgerät: {study} der Streuung der Studie, {tolerance} der Toleranz, {categories} unterscheidbare Klassen. Die Schwellen sind die des Kunden.', excluded: 'Aus der Grundlage der Grenzen {id} ausgelassen: {text}', excludedPoint: '{at}, Stichprobe {sequence}: {reason}', corrected: '{count} Berichtigungen von Messwerten im Zeitraum',
  refusals: { 'too-little-data': 'zu wenige Daten', 'mixed-formulas': 'Messwerte nach verschiedenen Formeln', 'no-specification': 'keine Grenze zum Vergleichen', 'mixed-charts': 'Ströme mit verschiedenen Karten', 'subgroups-too-large': 'Stichproben zu groß für die Kartenfaktoren' },
  boundLower: 'Ppk, einseitige untere Schranke', ppm: 'Erwartet außerhalb, ppm (Sigma innerhalb): darunter {below}, darüber {above}', outside: '{found} von {units} Einheiten außerhalb der Spezifikation; Anteil höchstens {bound} bei Vertrauen {confidence}', unknown: 'unbekannt', reviewed: '{reviewed} von {stored} Prüfungen dieser Mappe wurden durch eine zweite Person geprüft.',
  underPack: 'Unterschriften unter dieser Mappe', noSignature: 'Nicht unterschrieben: ein Entwurf.', more: '{count} weitere stehen in der JSON-Datei und der Tabelle.', nothing: 'Keine im Zeitraum.', study: 'Studie {id}: {title}', studyFacts: 'aufbewahrt von {author} am {at}, Methode {method}, berechnet mit Version {version}', many: '{count} Werte, in der JSON-Datei',
  incident: 'Vorfall {id}, {kind}, {state}', incidentFacts: 'Dosencode {code}, eingegangen {at}; {complained} Dosen beanstandet, {leaking} von {examined} geprüften undicht; Fehler: {defect}', containment: 'Sofortmaßnahme', verdict: 'Nachgewiesene Wirkung', closedWithout: 'Ohne Nachweis geschlossen', verifications: 'Aufbewahrte Vergleiche: {list}',
  method: [
    'Grenzen: Mitte ± 3 Sigma/√n; Sigma aus der mittleren Spannweite mit d2 (X-quer/R), der mittleren Standardabweichung mit c4 (X-quer/S) oder der mittleren gleitenden Spannweite mit d2(2) (Einzelwerte). Montgomery, Introduction to Statistical Quality Control, Kap. 6; ASTM MNL 7, Teil 3.',
    'Regeln: Western Electric, Statistical Quality Control Handbook, 1956, wie bei jedem Strom genannt. Stabil heißt ein Prozess, wenn jeder Punkt nach festen Grenzen beurteilt wurde und kein Signal den Zeitraum berührt.',
    'Cp = (OGW − UGW)/(6 Sigma innerhalb), Cpk = min(OGW − Mittelwert, Mittelwert − UGW)/(3 Sigma innerhalb); Pp und Ppk mit der Standardabweichung aller Werte (n − 1). Intervalle von Cp und Pp: Chi-Quadrat; von Cpk und Ppk: Bissell 1990. Indizes nach ISO 22514-2 in ihrer üblichen Form.',
    'Normalverteilung: Anderson-Darling A² (D’Agostino und Stephens, Goodness-of-Fit Techniques, 1986); ein großes p beweist keine Normalverteilung.',
    'Anteil außerhalb: exakte Schranken nach Clopper und Pearson, 1934. Bewertungen und Prozentwerte bekommen einen Anteil statt eines Index.',
    'Messsystemstudien: Varianzanalyse (Montgomery und Runger 1993); die Schwellen sind die des Kunden. Elektronische Unterschriften tragen Name, Zeit und Bedeutung (21 CFR 11.50).',
    'Zahlen sind IEEE-754-Doubles; die JSON-Datei ist kanonisch nach RFC 8785, ihr SHA-256 umfasst jede Eingabe und jedes Ergebnis. Die Tabelle rechnet Mittelwerte, Spannweiten, Grenzen und Indizes mit Formeln nach. Wer die Installation hat, kann alle Zahlen mit dem Befehl verify-pack aus den gespeicherten Messwerten nachrechnen.',
  ],
  sheet: { readings: 'Messwerte', figures: 'Kennzahlen', check: 'Prüfung', takenAt: 'Entnommen (UTC)', reading: 'Messwert', ours: 'Mappe', recomputed: 'Hier nachgerechnet', difference: 'Abweichung', spread: 'Streuung', factor: 'd2, c4 oder d2(2)', note: 'Nachgerechnet durch die Formeln dieses Blatts aus dem Blatt der Messwerte. Einzelwerte nutzen gleitende Spannweiten benachbarter Punkte. Bei mehreren Formeln, Größen oder Lücken werden nur n und Mittelwert nachgerechnet.' },
};
