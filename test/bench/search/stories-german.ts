import { type Story, story } from './story.js';

/** Troubles that people wrote down in German. All is invented. */
export const germanStories: readonly Story[] = [
  story('de-kaltschweissung', 'cold-weld', 'body-maker',
    ['Kalte Schweißnaht am Rumpfanfang mit Coil {lot}', 'Schweißnähte reißen beim Abziehen, {shift}'],
    ['Die Schweißnaht riss beim Abziehversuch auf den ersten Millimetern.', 'Mehrere Rümpfe mit offener Naht am vorderen Ende, der Streifen löst sich.'],
    'Naht vorn', ['Zu wenig Zinn auf dem Blech, der Strom war nicht nachgestellt.', 'Die Drahtführung war nach dem Drahtwechsel verschmutzt.'],
    'Abziehversuch an zehn Rümpfen, Zinnauflage aus dem Zeugnis.', ['Strom nach einem neuen Fensterversuch gesetzt.', 'Drahtführung gereinigt, Draht gewechselt.'], 'Zehn Rümpfe ohne Riss in zwei Schichten.'),
  story('de-rollenlager', 'loose-seam', 'seamer',
    ['Falzdicke schwankt rund um die Dose an {unit}', 'Lagerspiel der Falzrolle an {unit}, {after}'],
    ['Die Falzdicke schwankt um {much} mm über den Umfang einer Dose.', 'Dosen eines Kopfes mit ungleichmäßiger Dicke des Falzes.'],
    'Doppelfalz', ['Das Lager der zweiten Rolle hatte Spiel.', 'Rollenlager nicht geschmiert.'],
    'Spiel der Rolle mit der Messuhr.', ['Lager ersetzt und Rolle neu eingestellt.', 'Alle Rollenlager geschmiert.'], 'Die Schwankung blieb unter 0,02 mm.'),
  story('de-pulver', 'thin-stripe', 'stripe-applicator',
    ['Pulverschicht auf der Innennaht zu dünn, {shift}', 'Düsen verstopft: Nahtabdeckung lückenhaft'],
    ['Die Abdeckung der Naht hat Lücken, der Kupfertest zeigt Punkte.', 'Schichtdicke unter dem Sollwert, Pulver klumpt in den Düsen.'],
    'Nahtabdeckung innen', ['Feuchte Druckluft verklebte das Pulver.', 'Die Düse war verschlissen.'],
    'Schichtdicke an sechs Dosen, Feuchte der Druckluft.', ['Lufttrockner instand gesetzt, Düsen gereinigt.', 'Verschlissene Düse getauscht.'], 'Kupfertest ohne Punkte über drei Tage.'),
  story('de-boerdel', 'flange-crack', 'flanger',
    ['Bördelrisse neben der Naht an {unit}', 'Eingerissene Bördel, {after}'],
    ['Kleine Risse im Bördel neben der Schweißnaht, Dosen undicht.', 'Der Bördel reißt beim Umformen ein.'],
    'Bördel', ['Der Bördelkopf war stumpf und drückte zu stark.', 'Zu hartes Blech der Lieferung {lot}.'],
    'Bördel unter der Lupe, Härte des Blechs.', ['Bördelkopf geschliffen.', 'Lieferung gesperrt und dem Walzwerk gemeldet.'], 'Keine Risse an hundert Dosen.'),
];
