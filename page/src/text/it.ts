// SPDX-License-Identifier: MIT
// Every word of the page, in Italian.
import type { Messages } from './en';

export const it: Messages = {
  // the frame
  app: 'Recupero dal crepaccio',
  caution: 'Aiuto per la formazione. Non sostituisce l’istruzione, le regole locali, le indicazioni dei fabbricanti o una pratica qualificata: queste vengono prima. Tutti i numeri sono stime con i loro intervalli.',
  cautionShort: 'Aiuto per la formazione. Solo stime.',
  tabScene: 'Scena', tabRigs: 'Paranchi', tabRig: 'Paranco', tabSheet: 'Passi', tabLearn: 'Capire',
  views: 'Viste', menu: 'Menu', close: 'Chiudi', language: 'Lingua', units: 'Unità', metric: 'metriche', imperial: 'piedi, libbre',
  look: 'Aspetto', lookAuto: 'come il dispositivo', lookLight: 'chiaro', lookDark: 'scuro', lookGlare: 'luce forte',
  open: 'Apri un file di scena', save: 'Salva la scena come file', makeLink: 'Crea un link', copied: 'Il link è negli appunti. Chi lo apre vede questa scena.',
  linkIs: 'Questo link contiene la scena. Copialo:', print: 'Stampa la scheda', fresh: 'Ricomincia', freshSure: 'Buttare questa scena e ricominciare?',
  back: 'Indietro', next: 'Avanti',
  // trouble
  badFile: 'Questa scena non è stata presa; la tua è ancora qui.', badLink: 'Questo link non contiene una scena leggibile; la tua è ancora qui.',
  where: 'riga {0}, colonna {1}', accepted: 'accettato: {0}', refused: 'Non accettato: {0}',
  noStore: 'Questo browser non lascia conservare nulla. Salva la scena come file prima di uscire.',
  failed: 'Il calcolo non parte in questo browser. Servono WebAssembly e DecompressionStream.',
  // the form
  whoHangs: 'Chi è appeso, e dove?', edgeLike: 'Com’è il bordo?', whoPulls: 'Chi può tirare?', whatBags: 'Che cosa c’è negli zaini?',
  example: 'I numeri sono un esempio. Cambia quello che sai; lascia il resto.',
  fine: 'numeri esatti, aiuto', from: 'da', to: 'a', defaultIs: 'predefinito: {0}', useDefault: 'usa il predefinito',
  less: 'meno', moreOf: 'più', otherKeys: 'Altri dettagli', addPerson: 'Una persona in più', addRope: 'Una corda in più', remove: 'Togli',
  person: 'Persona {0}', rope: 'Corda {0}', nobody: 'Nessuno può tirare.', otherGear: 'Altro materiale', unknownYet: 'non indicato',
  rangeHelp: 'Non sei sicuro? Indica il valore minimo e quello massimo.',
  // answers
  can_yes: 'Sì', can_likely: 'Probabile', can_perhaps: 'Forse', can_no: 'No',
  canLong_yes: 'Questa squadra ce la fa, su tutto l’intervallo.', canLong_likely: 'Probabile: non con i valori peggiori.',
  canLong_perhaps: 'Forse: dipende da ciò che non si sa.', canLong_no: 'Non con questa squadra, o un limite è superato.',
  rigsCan: '{0} paranchi bastano', rigCan: '1 paranco basta', rigsNone: 'Nessun paranco con questo materiale basta', searching: 'Ricerca …',
  missing: 'Che cosa aiuterebbe', crewCan: 'Questa squadra può tirare {0}, per minuti {1}.', stillSearching: 'Ancora in cerca di paranchi più grandi …',
  pull: 'Tiro', time: 'Tempo', pieces: 'Pezzi', weakest: 'Punto debole', marginOf: 'tiene {0} volte il suo carico', rope_: 'Corda', resetsN: '{0} riposizionamenti', no_: 'paranco {0}', enlarge: 'Ingrandisci', shrink: 'Adatta',
  advantage: 'Vantaggio', idealAdv: 'senza attrito', share: 'Parte della forza della squadra', throwOf: 'Salita per corsa', openRig: 'Apri il paranco {0}',
  first: 'Che cosa viene prima?', prefer_pull: 'meno tiro', prefer_time: 'meno tempo', prefer_pieces: 'meno pezzi', prefer_safe: 'più margine', prefer_chance: 'più probabilità',
  searchNote: '{0} paranchi costruiti, {1} diversi, {2} tenuti: quelli che nessun altro batte in tutto.', figurePlans: 'Tiro rispetto ai pezzi',
  // one rig
  rigNo: 'Paranco {0} di {1}', rigOwn: 'Il paranco della scena', noRig: 'Non c’è ancora un paranco. Scegline uno in Paranchi.',
  rigRefused: 'Questo paranco non va più con la scena.', chooseAgain: 'Scegline un altro',
  handBack: 'Tira indietro la mano', pulled: 'mano tirata', risen: 'carico salito', toGo: 'mancano', slack: 'lasco della sicurezza', stroke: 'corsa',
  play: 'Tira una corsa', stop: 'Ferma', reset: 'Riposiziona', again: 'Dall’inizio', dragHint: 'Trascina di lato sul disegno, o usa il cursore.',
  strokeEnds: 'La corsa finisce: {0}', resetNow: 'Riposiziona: i bloccanti tengono, le carrucole tornano avanti.', atLip: 'Il carico è al bordo. Ora libera il bordo.',
  noBackup: 'nessuno', knots: 'nodi di sicurezza', handsOff: 'Lascia', takeUp: 'La corda si allunga: il carico non si muove ancora.', restNow: 'Lascia un momento: guarda la sicurezza.', resetDone: 'Mani libere: il bloccante tiene {0}; le carrucole tornano avanti.', knotDone: 'Il nodo di sicurezza {0} è fatto; restano {1} di lasco.', restDone: 'Una pausa.', sinks: 'Il carico è sceso di {0}.', englishOnly: 'Per esteso, in inglese',
  whatIf: 'Quanto costa?', before: 'prima', now: 'adesso', change: 'differenza', putBack: 'Rimetti', pullAngle: 'Angolo del tiro', loadMass: 'Carico',
  lipFriction: 'Attrito del bordo', lipTurn: 'Angolo sul bordo', bendAt: '{0} ({1})', onAnchor: 'Su ancoraggio e stazione',
  parts: 'Tocca una parte', letsGo: 'Se cede', raising: 'in salita', holding: 'in tenuta', limitOf: 'Limite',
  strandFrom: 'Ramo {0} – {1}', bend: 'Rinvio', gripOf: 'Bloccante {0}', body: 'Punti', carriesNothing: 'non porta nulla',
  noLimit: 'Nessun limite noto per questa parte.', source: 'fonte', numbers: 'Tutti i numeri', planView: 'Visto dall’alto', angleCurve: 'Vantaggio secondo l’angolo',
  caughtBy: 'Trattenuto da {0}', lost: 'Niente trattiene: il carico è perso.', drops: 'Cade di {0}, punta {1}', overLimit: 'Oltre il suo limite: {0}',
  holdsAnyway: 'In questo passo il carico non vi è appeso.', loseLater: 'Che cosa succede allora non è calcolato per questo paranco.',
  atStage: 'A: {0}',
  // steps
  steps: 'Costruiscilo passo per passo', stepOf: 'Passo {0} di {1}',
  stepTie: 'Lega la corda {0}: {1}.', stepTieSlack: 'Lega la corda {0}: {1}; lascia prima {2} di lasco.', stepLip: 'Porta la corda {0} oltre il bordo.', stepRun: 'Passa la corda {0} in: {1} ({2}).',
  stepGrip: 'Metti sulla corda {0}: {1}, a {2} dal bordo ({3}).', stepTended: 'Metti sulla corda {0}: {1} ({2}); qualcuno lo cura. Tiene mentre si riposiziona.',
  stepHandBack: 'La squadra tira la corda {0} indietro, via dal bordo.', stepHandLip: 'La squadra tira la corda {0} verso il bordo.',
  betweenOf: 'tra {0} e {1}',
  allSteps: 'Tutti i passi', refusedSheet: 'Questo paranco non va costruito così:',
  g_firstLine: 'Tieni la caduta. Chiama soccorso. Costruisci l’ancoraggio, legaci la corda della persona e lascia venire il carico piano.', g_station: 'Fai la stazione: appendila all’ancoraggio.', g_edge: 'Mettiti al sicuro. Libera il bordo e metti qualcosa sotto la corda.', g_transfer: 'Primo tiro: piano, finché il carico è sulla corda di recupero. Guarda ogni pezzo.', g_haul: 'Tira. Fermati prima che le carrucole si tocchino.', g_reset: 'Lascia: i bloccanti tengono. Porta avanti i nodi.', g_slack: 'lasco della sicurezza', g_knot: 'Fai il nodo di sicurezza {0}.', g_lip: 'L’ultimo mezzo metro: piano. Libera le corde dal bordo.', g_over: 'Il carico è oltre il bordo, ancora sulla corda.', g_away: 'Via dal bordo, sempre assicurati.', oneThing: 'UN solo pezzo tiene il carico.',
  // learning
  compare: 'A confronto', why: 'Perché?', quiz: 'Domande', rigA: 'Paranco A', rigB: 'Paranco B', ratio: 'B su A',
  whyText: 'Senza attrito: il tiro sia 1. Lungo la corda ogni ramo porta lo stesso; una carrucola mobile somma i suoi due rami. Con l’attrito ogni rinvio prende la sua parte.',
  strand: 'Ramo', noFriction: 'senza attrito', withFriction: 'con attrito', timesPull: 'multipli del tiro', lossAt: 'Perdite ai rinvii', keeps: 'lascia {0} della forza',
  show: 'Mostra la risposta', hide: 'Nascondi',
  qAdvantage: 'Che vantaggio ha questo paranco senza attrito?', qReal: 'E con l’attrito: che tiro alza un peso di 100?', qAnchor: 'Che cosa portano ancoraggio e stazione in salita?',
  qSlip: 'Riposizionando, {0} scivola. Che cosa tiene il carico?', qAngle: 'Tiri a 45° dalla linea. Quanto è più duro?',
  qHand: 'Per alzare il carico di 1 m, quanto va la mano?', aHand: '{0} m di corda: {1} volte, come il vantaggio senza attrito.', qHard: 'Quale ramo porta di più?',
  aReal: 'Circa {0}.', aAngle: '{0} invece di {1}.', aSlipHold: 'Mani libere, i bloccanti tengono: {0}. Il nodo porta allora {1}.', aSlipNone: 'In questo paranco nessun bloccante tiene: il carico ricade.',
  pickTwo: 'Servono due paranchi: prima lascia che la ricerca ne trovi.',
  // names of what stands in a scene
  n_load: 'carico', n_lip: 'bordo', n_station: 'stazione', n_anchor: 'ancoraggio', n_hand: 'mano', n_loose: 'capo libero',
  n_block: 'blocco {0}',
};
