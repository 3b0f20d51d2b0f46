// SPDX-License-Identifier: MIT
// Every word of the page, in French.
import type { Messages } from './en';

export const fr: Messages = {
  // the frame
  app: 'Sortir d’une crevasse',
  caution: 'Aide à la formation. Elle ne remplace ni l’enseignement, ni les règles locales, ni les notices des fabricants, ni une pratique qualifiée : ceux-ci priment. Tous les chiffres sont des estimations avec leurs plages.',
  cautionShort: 'Aide à la formation. Estimations seulement.',
  tabScene: 'Scène', tabRigs: 'Mouflages', tabRig: 'Détail', tabSheet: 'Étapes', tabLearn: 'Apprendre',
  views: 'Vues', menu: 'Menu', close: 'Fermer', language: 'Langue', units: 'Unités', metric: 'métriques', imperial: 'pieds, livres',
  look: 'Aspect', lookAuto: 'comme l’appareil', lookLight: 'clair', lookDark: 'sombre', lookGlare: 'plein soleil',
  open: 'Ouvrir un fichier de scène', save: 'Enregistrer la scène', makeLink: 'Créer un lien', copied: 'Le lien est dans le presse-papiers. Qui l’ouvre voit cette scène.',
  linkIs: 'Ce lien contient la scène. À copier :', print: 'Imprimer la fiche', fresh: 'Recommencer', freshSure: 'Abandonner cette scène et recommencer ?',
  back: 'Retour', next: 'Suite',
  // trouble
  badFile: 'Cette scène n’a pas été prise ; la vôtre est toujours là.', badLink: 'Ce lien ne contient pas de scène lisible ; la vôtre est toujours là.',
  where: 'ligne {0}, colonne {1}', accepted: 'accepté : {0}', refused: 'Refusé : {0}',
  noStore: 'Ce navigateur ne laisse rien conserver. Enregistrez la scène dans un fichier avant de partir.',
  failed: 'Le calcul ne démarre pas dans ce navigateur. Il faut WebAssembly et DecompressionStream.',
  // the form
  whoHangs: 'Qui est suspendu, et où ?', edgeLike: 'Comment est le bord ?', whoPulls: 'Qui peut tirer ?', whatBags: 'Qu’y a-t-il dans les sacs ?',
  example: 'Ces chiffres sont un exemple. Changez ce que vous savez ; laissez le reste.',
  fine: 'chiffres exacts, aide', from: 'de', to: 'à', defaultIs: 'par défaut : {0}', useDefault: 'prendre la valeur par défaut',
  less: 'moins', moreOf: 'plus', otherKeys: 'Plus de précisions', addPerson: 'Une personne de plus', addRope: 'Une corde de plus', remove: 'Enlever',
  person: 'Personne {0}', rope: 'Corde {0}', nobody: 'Personne ne peut tirer.', otherGear: 'Autre matériel', unknownYet: 'non précisé',
  rangeHelp: 'Pas sûr ? Donnez la plus petite et la plus grande valeur.',
  // answers
  can_yes: 'Oui', can_likely: 'Probable', can_perhaps: 'Peut-être', can_no: 'Non',
  canLong_yes: 'Cette équipe peut tirer, sur toute la plage.', canLong_likely: 'Probable : pas avec les pires valeurs.',
  canLong_perhaps: 'Peut-être : cela dépend de ce qu’on ne sait pas.', canLong_no: 'Pas avec cette équipe, ou une limite est dépassée.',
  rigsCan: '{0} mouflages suffisent', rigCan: '1 mouflage suffit', rigsNone: 'Aucun mouflage de ce matériel ne suffit', searching: 'Recherche …',
  missing: 'Ce qui aiderait', crewCan: 'Cette équipe peut tirer {0}, pendant des minutes {1}.', stillSearching: 'Recherche de mouflages plus grands …',
  pull: 'Traction', time: 'Durée', pieces: 'Pièces', weakest: 'Point faible', marginOf: 'tient {0} fois sa charge', rope_: 'Corde', resetsN: '{0} repositionnements', no_: 'mouflage {0}', enlarge: 'Agrandir', shrink: 'Ajuster',
  advantage: 'Démultiplication', idealAdv: 'sans frottement', share: 'Part de la force de l’équipe', throwOf: 'Montée par course', openRig: 'Ouvrir le mouflage {0}',
  first: 'Qu’est-ce qui prime ?', prefer_pull: 'moins de traction', prefer_time: 'moins de temps', prefer_pieces: 'moins de pièces', prefer_safe: 'plus de marge', prefer_chance: 'plus de chances',
  searchNote: '{0} mouflages construits, {1} différents, {2} gardés : ceux qu’aucun autre ne bat en tout.', figurePlans: 'Traction selon les pièces',
  // one rig
  rigNo: 'Mouflage {0} sur {1}', rigOwn: 'Le mouflage de la scène', noRig: 'Pas encore de mouflage. Choisissez-en un sous Mouflages.',
  rigRefused: 'Ce mouflage ne va plus avec la scène.', chooseAgain: 'En choisir un autre',
  handBack: 'Tirer la main en arrière', pulled: 'main tirée', risen: 'charge montée', toGo: 'reste', slack: 'mou de l’assurage', stroke: 'course',
  play: 'Tirer une course', stop: 'Arrêter', reset: 'Repositionner', again: 'Depuis le début', dragHint: 'Glissez de côté sur le dessin, ou utilisez le curseur.',
  strokeEnds: 'La course finit : {0}', resetNow: 'Repositionner : les bloqueurs tiennent, les poulies repartent en avant.', atLip: 'La charge est au bord. Maintenant, dégager le bord.',
  noBackup: 'aucun', knots: 'nœuds d’assurage', handsOff: 'Lâcher', takeUp: 'La corde s’allonge : la charge ne bouge pas encore.', restNow: 'Lâcher un moment : voir l’assurage.', resetDone: 'Mains lâchées : le bloqueur tient {0} ; les poulies repartent en avant.', knotDone: 'Le nœud d’assurage {0} est fait ; il reste {1} de mou.', restDone: 'Une pause.', sinks: 'La charge est descendue de {0}.', englishOnly: 'En détail, en anglais',
  whatIf: 'Qu’est-ce que cela coûte ?', before: 'avant', now: 'maintenant', change: 'écart', putBack: 'Remettre', pullAngle: 'Angle de la traction', loadMass: 'Charge',
  lipFriction: 'Frottement du bord', lipTurn: 'Angle au bord', bendAt: '{0} ({1})', onAnchor: 'Sur l’ancrage et la station',
  parts: 'Toucher un élément', letsGo: 'S’il lâche', raising: 'en levant', holding: 'en tenant', limitOf: 'Limite',
  strandFrom: 'Brin {0} – {1}', bend: 'Renvoi', gripOf: 'Bloqueur {0}', body: 'Points', carriesNothing: 'ne porte rien',
  noLimit: 'Aucune limite connue pour cet élément.', source: 'source', numbers: 'Tous les chiffres', planView: 'Vu de dessus', angleCurve: 'Démultiplication selon l’angle',
  caughtBy: 'Retenu par {0}', lost: 'Rien ne retient : la charge est perdue.', drops: 'Tombe de {0}, pointe {1}', overLimit: 'Au-delà de sa limite : {0}',
  holdsAnyway: 'La charge n’y est pas suspendue à cette étape.', loseLater: 'Ce qui se passe alors n’est pas calculé pour ce mouflage.',
  atStage: 'À : {0}',
  // steps
  steps: 'Construire étape par étape', stepOf: 'Étape {0} sur {1}',
  stepTie: 'Attacher la corde {0} : {1}.', stepTieSlack: 'Attacher la corde {0} : {1} ; laisser {2} de mou avant.', stepLip: 'Passer la corde {0} par-dessus le bord.', stepRun: 'Passer la corde {0} dans : {1} ({2}).',
  stepGrip: 'Poser sur la corde {0} : {1}, à {2} du bord ({3}).', stepTended: 'Poser sur la corde {0} : {1} ({2}) ; quelqu’un s’en occupe. Il tient pendant le repositionnement.',
  stepHandBack: 'L’équipe tire la corde {0} en arrière, loin du bord.', stepHandLip: 'L’équipe tire la corde {0} vers le bord.',
  betweenOf: 'entre {0} et {1}',
  allSteps: 'Toutes les étapes', refusedSheet: 'Ce mouflage ne doit pas être construit ainsi :',
  g_firstLine: 'Tenir la chute. Appeler les secours. Construire l’ancrage, y attacher la corde de la personne, y laisser venir la charge lentement.', g_station: 'Faire la station : la suspendre à l’ancrage.', g_edge: 'S’assurer soi-même. Dégager le bord et mettre quelque chose sous la corde.', g_transfer: 'Première traction : lentement, jusqu’à ce que la charge soit sur la corde de levage. Regarder chaque pièce.', g_haul: 'Tirer. S’arrêter avant que les poulies se touchent.', g_reset: 'Lâcher : les bloqueurs tiennent. Avancer les nœuds.', g_slack: 'mou de l’assurage', g_knot: 'Faire le nœud d’assurage {0}.', g_lip: 'Le dernier demi-mètre : lentement. Dégager les cordes du bord.', g_over: 'La charge est passée, encore sur la corde.', g_away: 'Loin du bord, toujours assuré.', oneThing: 'UNE seule pièce tient la charge.',
  // learning
  compare: 'Côte à côte', why: 'Pourquoi ?', quiz: 'Questions', rigA: 'Mouflage A', rigB: 'Mouflage B', ratio: 'B sur A',
  whyText: 'Sans frottement : la traction vaut 1. Le long de la corde, chaque brin porte autant ; une poulie mobile additionne ses deux brins. Avec frottement, chaque renvoi prend sa part.',
  strand: 'Brin', noFriction: 'sans frottement', withFriction: 'avec frottement', timesPull: 'multiples de la traction', lossAt: 'Pertes aux renvois', keeps: 'garde {0} de la force',
  show: 'Montrer la réponse', hide: 'Cacher',
  qAdvantage: 'Quelle est la démultiplication de ce mouflage sans frottement ?', qReal: 'Et avec frottement : quelle traction lève un poids de 100 ?', qAnchor: 'Que portent l’ancrage et la station en levant ?',
  qSlip: 'Au repositionnement, {0} glisse. Qu’est-ce qui tient la charge ?', qAngle: 'Vous tirez à 45° de la ligne. Combien est-ce plus dur ?',
  qHand: 'Pour lever la charge de 1 m, de combien va la main ?', aHand: '{0} m de corde : {1} fois, comme la démultiplication sans frottement.', qHard: 'Quel brin porte le plus ?',
  aReal: 'Environ {0}.', aAngle: '{0} au lieu de {1}.', aSlipHold: 'Mains lâchées, les bloqueurs tiennent : {0}. Le nœud porte alors {1}.', aSlipNone: 'Aucun bloqueur ne tient dans ce mouflage : la charge retombe.',
  pickTwo: 'Il faut deux mouflages : laissez d’abord la recherche en trouver.',
  // names of what stands in a scene
  n_load: 'charge', n_lip: 'bord', n_station: 'station', n_anchor: 'ancrage', n_hand: 'main', n_loose: 'bout libre',
  n_block: 'bloc {0}',
};
