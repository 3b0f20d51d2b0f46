// SPDX-License-Identifier: MIT
// Every word of the page, in German.
import type { Messages } from './en';

export const de: Messages = {
  // the frame
  app: 'Bergung aus der Spalte',
  caution: 'Übungshilfe. Sie ersetzt weder Ausbildung noch örtliche Regeln, Herstellerangaben oder geprüfte Praxis: diese gehen vor. Alle Zahlen sind Schätzungen mit Bereichen.',
  cautionShort: 'Übungshilfe. Nur Schätzungen.',
  tabScene: 'Lage', tabRigs: 'Züge', tabRig: 'Zug', tabSheet: 'Schritte', tabLearn: 'Lernen',
  views: 'Ansichten', menu: 'Menü', close: 'Schließen', language: 'Sprache', units: 'Einheiten', metric: 'metrisch', imperial: 'Fuß, Pfund',
  look: 'Aussehen', lookAuto: 'wie das Gerät', lookLight: 'hell', lookDark: 'dunkel', lookGlare: 'für grelles Licht',
  open: 'Szenendatei öffnen', save: 'Szene als Datei sichern', makeLink: 'Link erzeugen', copied: 'Der Link liegt in der Zwischenablage. Wer ihn öffnet, sieht diese Szene.',
  linkIs: 'Dieser Link enthält die Szene. Kopieren:', print: 'Karte drucken', fresh: 'Neu beginnen', freshSure: 'Diese Szene verwerfen und neu beginnen?',
  back: 'Zurück', next: 'Weiter',
  // trouble
  badFile: 'Diese Szene wurde nicht übernommen; Ihre ist noch da.', badLink: 'Dieser Link enthält keine lesbare Szene; Ihre ist noch da.',
  where: 'Zeile {0}, Spalte {1}', accepted: 'angenommen wird: {0}', refused: 'Nicht angenommen: {0}',
  noStore: 'Dieser Browser lässt die Seite nichts behalten. Sichern Sie die Szene als Datei, bevor Sie gehen.',
  failed: 'Der Rechenkern startet in diesem Browser nicht. Er braucht WebAssembly und DecompressionStream.',
  // the form
  whoHangs: 'Wer hängt wo?', edgeLike: 'Wie ist die Kante?', whoPulls: 'Wer kann ziehen?', whatBags: 'Was ist in den Rucksäcken?',
  example: 'Die Zahlen sind ein Beispiel. Ändern Sie, was Sie wissen; den Rest lassen Sie stehen.',
  fine: 'genaue Zahlen, Hilfe', from: 'von', to: 'bis', defaultIs: 'Vorgabe: {0}', useDefault: 'Vorgabe nehmen',
  less: 'weniger', moreOf: 'mehr', otherKeys: 'Mehr dazu', addPerson: 'Noch eine Person', addRope: 'Noch ein Seil', remove: 'Entfernen',
  person: 'Person {0}', rope: 'Seil {0}', nobody: 'Niemand kann ziehen.', otherGear: 'Anderes Gerät', unknownYet: 'nicht angegeben',
  rangeHelp: 'Nicht sicher? Geben Sie den kleinsten und den größten Wert an.',
  // answers
  can_yes: 'Ja', can_likely: 'Wahrscheinlich', can_perhaps: 'Vielleicht', can_no: 'Nein',
  canLong_yes: 'Diese Gruppe kann es ziehen, im ganzen Bereich.', canLong_likely: 'Wahrscheinlich: nicht bei den schlechtesten Werten.',
  canLong_perhaps: 'Vielleicht: es hängt von dem ab, was man nicht weiß.', canLong_no: 'Nicht mit dieser Gruppe, oder eine Grenze ist überschritten.',
  rigsCan: '{0} Züge schaffen es', rigCan: '1 Zug schafft es', rigsNone: 'Kein Zug aus diesem Gerät schafft es', searching: 'Suche läuft …',
  missing: 'Was helfen würde', crewCan: 'Diese Gruppe kann {0} ziehen, minutenlang {1}.', stillSearching: 'Größere Züge werden noch gesucht …',
  pull: 'Zugkraft', time: 'Zeit', pieces: 'Teile', weakest: 'Schwächste Stelle', marginOf: 'hält das {0}-Fache', rope_: 'Seil', resetsN: '{0} × nachsetzen', no_: 'Zug {0}', enlarge: 'Vergrößern', shrink: 'Einpassen',
  advantage: 'Übersetzung', idealAdv: 'ohne Reibung', share: 'Anteil an der Kraft der Gruppe', throwOf: 'Hub je Zug', openRig: 'Zug {0} öffnen',
  first: 'Was kommt zuerst?', prefer_pull: 'kleinste Kraft', prefer_time: 'kürzeste Zeit', prefer_pieces: 'wenigste Teile', prefer_safe: 'größte Reserve', prefer_chance: 'größte Aussicht',
  searchNote: '{0} Züge gebaut, {1} verschiedene, {2} behalten: die, die kein anderer in allem schlägt.', figurePlans: 'Zugkraft gegen Teile',
  // one rig
  rigNo: 'Zug {0} von {1}', rigOwn: 'Der Zug in der Szene', noRig: 'Noch ist kein Zug da. Wählen Sie einen unter Züge.',
  rigRefused: 'Dieser Zug passt nicht mehr zur Szene.', chooseAgain: 'Einen anderen wählen',
  handBack: 'Hand zurückziehen', pulled: 'Hand gezogen', risen: 'Last gehoben', toGo: 'noch', slack: 'Schlappseil der Sicherung', stroke: 'Zug',
  play: 'Einmal ziehen', stop: 'Halt', reset: 'Nachsetzen', again: 'Von vorn', dragHint: 'Auf der Zeichnung seitwärts ziehen oder den Schieber nehmen.',
  strokeEnds: 'Der Zug endet: {0}', resetNow: 'Nachsetzen: Sperren halten, Rollen gehen nach vorn.', atLip: 'Die Last ist an der Kante. Jetzt die Kante frei machen.',
  noBackup: 'keine', knots: 'Sicherungsknoten', handsOff: 'Hände weg', takeUp: 'Das Seil dehnt sich: die Last bewegt sich noch nicht.', restNow: 'Kurz loslassen: nach der Sicherung sehen.', resetDone: 'Hände weg: die Sperre hält {0}; die Rollen gehen nach vorn.', knotDone: 'Sicherungsknoten {0} ist gebunden; {1} Schlappseil bleibt.', restDone: 'Eine Pause.', sinks: 'Die Last sank {0}.', englishOnly: 'Ausführlich, auf Englisch',
  whatIf: 'Was kostet es?', before: 'vorher', now: 'jetzt', change: 'Unterschied', putBack: 'Zurücksetzen', pullAngle: 'Winkel des Zugs', loadMass: 'Last',
  lipFriction: 'Reibung an der Kante', lipTurn: 'Umlenkung an der Kante', bendAt: '{0} ({1})', onAnchor: 'An Anker und Station',
  parts: 'Teil antippen', letsGo: 'Wenn es nachgibt', raising: 'beim Heben', holding: 'beim Halten', limitOf: 'Grenze',
  strandFrom: 'Strang {0} – {1}', bend: 'Umlenkung', gripOf: 'Klemme {0}', body: 'Punkte', carriesNothing: 'trägt nichts',
  noLimit: 'Für dieses Teil ist keine Grenze bekannt.', source: 'Quelle', numbers: 'Alle Zahlen', planView: 'Von oben', angleCurve: 'Übersetzung je nach Winkel',
  caughtBy: 'Aufgefangen durch {0}', lost: 'Nichts fängt auf: die Last ist verloren.', drops: 'Fällt {0}, Spitze {1}', overLimit: 'Über der Grenze: {0}',
  holdsAnyway: 'Daran hängt die Last in diesem Schritt nicht.', loseLater: 'Was dann geschieht, ist für diesen Zug nicht berechnet.',
  atStage: 'Bei: {0}',
  // steps
  steps: 'Schritt für Schritt aufbauen', stepOf: 'Schritt {0} von {1}',
  stepTie: 'Seil {0} festbinden: {1}.', stepTieSlack: 'Seil {0} festbinden: {1}; davor {2} Schlappseil lassen.', stepLip: 'Seil {0} über die Kante führen.', stepRun: 'Seil {0} durch: {1} ({2}).',
  stepGrip: '{1} auf Seil {0} setzen, {2} hinter der Kante ({3}).', stepTended: '{1} auf Seil {0} setzen ({2}): jemand bedient sie. Sie hält beim Nachsetzen.',
  stepHandBack: 'Die Gruppe zieht Seil {0} zurück, weg von der Kante.', stepHandLip: 'Die Gruppe zieht Seil {0} zur Kante hin.',
  betweenOf: 'zwischen {0} und {1}',
  allSteps: 'Alle Schritte', refusedSheet: 'Dieser Zug darf so nicht gebaut werden:',
  g_firstLine: 'Sturz halten. Hilfe rufen. Anker bauen, das Seil der Person daran festbinden und die Last langsam daraufkommen lassen.', g_station: 'Station bauen: an den Anker hängen.', g_edge: 'Selbst sichern. Kante frei machen und etwas unter das Seil legen.', g_transfer: 'Erster Zug: langsam, bis die Last am Zugseil hängt. Jedes Teil ansehen.', g_haul: 'Ziehen. Anhalten, bevor sich Rollen berühren.', g_reset: 'Hände weg: die Sperren halten. Klemmen nach vorn setzen.', g_slack: 'Schlappseil der Sicherung', g_knot: 'Sicherungsknoten {0} binden.', g_lip: 'Der letzte halbe Meter: langsam. Seile von der Kante befreien.', g_over: 'Die Last ist über der Kante, noch am Seil.', g_away: 'Weg von der Kante, weiter gesichert.', oneThing: 'EIN Teil allein hält die Last.',
  // learning
  compare: 'Nebeneinander', why: 'Warum?', quiz: 'Fragen', rigA: 'Zug A', rigB: 'Zug B', ratio: 'B gegen A',
  whyText: 'Ohne Reibung: die Zugkraft sei 1. Entlang des Seils trägt jeder Strang gleich viel; eine lose Rolle zählt ihre zwei Stränge zusammen. Mit Reibung nimmt jede Umlenkung ihren Teil.',
  strand: 'Strang', noFriction: 'ohne Reibung', withFriction: 'mit Reibung', timesPull: 'Vielfaches der Zugkraft', lossAt: 'Verlust an den Umlenkungen', keeps: 'lässt {0} der Kraft',
  show: 'Antwort zeigen', hide: 'Verbergen',
  qAdvantage: 'Welche Übersetzung hat dieser Zug ohne Reibung?', qReal: 'Und mit Reibung: welche Kraft hebt ein Gewicht von 100?', qAnchor: 'Was tragen Anker und Station beim Heben?',
  qSlip: 'Beim Nachsetzen rutscht {0}. Was hält die Last?', qAngle: 'Sie ziehen 45° neben der Linie. Wie viel schwerer ist es?',
  qHand: 'Die Last soll 1 m steigen. Wie weit geht die Hand?', aHand: '{0} m Seil: das {1}-Fache, wie die Übersetzung ohne Reibung.', qHard: 'Welcher Strang trägt am meisten?',
  aReal: 'Etwa {0}.', aAngle: '{0} statt {1}.', aSlipHold: 'Hände weg, die Sperren halten: {0}. Die Klemme trägt dann {1}.', aSlipNone: 'In diesem Zug hält keine Sperre: die Last fällt zurück.',
  pickTwo: 'Dazu braucht es zwei Züge: erst welche suchen lassen.',
  // names of what stands in a scene
  n_load: 'Last', n_lip: 'Kante', n_station: 'Station', n_anchor: 'Anker', n_hand: 'Hand', n_loose: 'loses Ende',
  n_block: 'Block {0}',
};
