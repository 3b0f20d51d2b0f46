// SPDX-License-Identifier: MIT
// Every word of the page, in English. The other languages have the same keys; the compiler insists.
export const en = {
  // the frame
  app: 'Raise from a crevasse',
  caution: 'Training aid. It does not replace instruction, local rules, makers’ instructions or qualified practice: these come first. All figures are estimates with ranges.',
  cautionShort: 'Training aid. Estimates only.',
  tabScene: 'Scene', tabRigs: 'Rigs', tabRig: 'Rig', tabSheet: 'Steps', tabLearn: 'Learn',
  views: 'Views', menu: 'Menu', close: 'Close', language: 'Language', units: 'Units', metric: 'metric', imperial: 'feet, pounds',
  look: 'Look', lookAuto: 'as the device', lookLight: 'light', lookDark: 'dark', lookGlare: 'high glare',
  open: 'Open a scene file', save: 'Save scene as file', makeLink: 'Make a link', copied: 'The link is in the clipboard. Whoever opens it sees this scene.',
  linkIs: 'This link holds the scene. Copy it:', print: 'Print the card', fresh: 'Start again', freshSure: 'Throw this scene away and start again?',
  back: 'Back', next: 'Next',
  // trouble
  badFile: 'This scene was not taken; yours is still here.', badLink: 'This link holds no scene that can be read; yours is still here.',
  where: 'line {0}, column {1}', accepted: 'accepted: {0}', refused: 'Not accepted: {0}',
  noStore: 'This browser does not let the page keep the scene. Save it as a file before you leave.',
  failed: 'The core could not start in this browser. It needs WebAssembly and DecompressionStream.',
  // the form
  whoHangs: 'Who hangs where?', edgeLike: 'What is the edge like?', whoPulls: 'Who can pull?', whatBags: 'What is in the bags?',
  example: 'The figures below are an example. Change what you know; leave the rest.',
  fine: 'exact figures, help', from: 'from', to: 'to', defaultIs: 'default: {0}', useDefault: 'use the default',
  less: 'less', moreOf: 'more', otherKeys: 'More about this', addPerson: 'One more person', addRope: 'One more rope', remove: 'Remove',
  person: 'Person {0}', rope: 'Rope {0}', nobody: 'Nobody can pull.', otherGear: 'Other gear', unknownYet: 'not stated',
  rangeHelp: 'Not sure? Give the lowest and the highest value.',
  // answers
  can_yes: 'Yes', can_likely: 'Likely', can_perhaps: 'Perhaps', can_no: 'No',
  canLong_yes: 'This crew can pull it, over the whole range.', canLong_likely: 'Likely: not at the worst figures.',
  canLong_perhaps: 'Perhaps: it depends on what is not known.', canLong_no: 'Not with this crew, or a limit is broken.',
  rigsCan: '{0} rigs can do it', rigCan: '1 rig can do it', rigsNone: 'No rig of this kit can do it', searching: 'Searching …',
  missing: 'What would help', crewCan: 'This crew can pull {0}, for minutes {1}.', stillSearching: 'Still searching larger rigs …',
  pull: 'Pull', time: 'Time', pieces: 'Pieces', weakest: 'Weakest point', marginOf: '{0} times its force', rope_: 'Rope', resetsN: '{0} resets', no_: 'rig {0}', enlarge: 'Enlarge', shrink: 'Fit',
  advantage: 'Advantage', idealAdv: 'without friction', share: 'Share of the crew’s pull', throwOf: 'Rise a stroke', openRig: 'Open rig {0}',
  first: 'What comes first?', prefer_pull: 'least pull', prefer_time: 'least time', prefer_pieces: 'fewest pieces', prefer_safe: 'widest margin', prefer_chance: 'best chance',
  searchNote: '{0} rigs built, {1} different, {2} kept: those that no other beats in everything.', figurePlans: 'Pull against pieces',
  // one rig
  rigNo: 'Rig {0} of {1}', rigOwn: 'The rig in the scene', noRig: 'There is no rig yet. Choose one under Rigs.',
  rigRefused: 'This rig no longer fits the scene.', chooseAgain: 'Choose another',
  handBack: 'Pull the hand back', pulled: 'hand pulled', risen: 'load risen', toGo: 'to go', slack: 'slack in the backup', stroke: 'stroke',
  play: 'Pull one stroke', stop: 'Stop', reset: 'Reset the blocks', again: 'From the start', dragHint: 'Drag sideways on the figure, or use the slider.',
  strokeEnds: 'The stroke ends: {0}', resetNow: 'Reset: captures hold, blocks go forward.', atLip: 'The load is at the lip. Now the edge: clear it.',
  noBackup: 'none', knots: 'backup knots', handsOff: 'Hands off', takeUp: 'The rope stretches: the load does not move yet.', restNow: 'Hands off for a moment: see to the backup.', resetDone: 'Hands off: the capture holds {0}; the blocks go forward.', knotDone: 'Backup knot {0} is tied; {1} of slack is left.', restDone: 'A rest.', sinks: 'The load sank {0}.', englishOnly: 'In full, in English',
  whatIf: 'What does it cost?', before: 'before', now: 'now', change: 'change', putBack: 'Put back', pullAngle: 'Angle of the pull', loadMass: 'Load',
  lipFriction: 'Friction of the edge', lipTurn: 'Turn over the edge', bendAt: '{0} on {1}', onAnchor: 'On the anchor and the station',
  parts: 'Tap a part', letsGo: 'If it lets go', raising: 'raising', holding: 'holding', limitOf: 'Limit',
  strandFrom: 'Strand {0} – {1}', bend: 'Bend', gripOf: 'Grip {0}', body: 'Points', carriesNothing: 'carries nothing',
  noLimit: 'No limit is known for this part.', source: 'source', numbers: 'All numbers', planView: 'Seen from above', angleCurve: 'Advantage against the angle',
  caughtBy: 'Caught by {0}', lost: 'Nothing catches: the load is lost.', drops: 'Falls {0}, peak {1}', overLimit: 'Over its limit: {0}',
  holdsAnyway: 'The load does not hang on it at this stage.', loseLater: 'What happens then is not worked out for this rig.',
  atStage: 'At: {0}',
  // steps
  steps: 'Build it step by step', stepOf: 'Step {0} of {1}',
  stepTie: 'Tie {0} to {1}.', stepTieSlack: 'Tie {0} to {1}; leave {2} of slack before it.', stepLip: 'Lead {0} over the edge.', stepRun: 'Run {0} through the {1} on {2}.',
  stepGrip: 'Put a {1} on {0}, {2} back from the edge ({3}).', stepTended: 'Put a {1} on {0} at {2}: someone tends it. It holds when you reset.',
  stepHandBack: 'The crew pulls {0} back, away from the edge.', stepHandLip: 'The crew pulls {0} toward the edge.',
  betweenOf: 'between {0} and {1}',
  allSteps: 'All steps', refusedSheet: 'This rig must not be built so:',
  g_firstLine: 'Hold the fall. Call for rescue. Build the anchor, tie the rope that holds the person to it, and let the load come onto it slowly.', g_station: 'Make the station: hang it on the anchor.', g_edge: 'Secure yourself. Clear the edge and put something under the rope.', g_transfer: 'First pull: slowly, until the load hangs on the haul line. Look at every piece.', g_haul: 'Haul. Stop before blocks touch.', g_reset: 'Hands off: the captures hold. Move the grips forward.', g_slack: 'slack in the backup', g_knot: 'Tie backup knot {0}.', g_lip: 'The last half metre: slowly. Free the ropes from the edge.', g_over: 'The load is over the edge, still on the rope.', g_away: 'Away from the edge, still secured.', oneThing: 'ONE thing alone holds the load.',
  // learning
  compare: 'Side by side', why: 'Why?', quiz: 'Questions', rigA: 'Rig A', rigB: 'Rig B', ratio: 'B against A',
  whyText: 'Without friction: call the pull 1. Along the rope each strand carries the same; a moving block adds its two strands. With friction each bend takes its part.',
  strand: 'Strand', noFriction: 'no friction', withFriction: 'with friction', timesPull: 'times the pull', lossAt: 'Loss at the bends', keeps: 'keeps {0} of the force',
  show: 'Show the answer', hide: 'Hide',
  qAdvantage: 'What is the advantage of this rig without friction?', qReal: 'And with friction: what pull lifts a weight of 100?', qAnchor: 'What does anchor and station carry while you raise?',
  qSlip: 'At the reset the grip {0} slips. What holds the load?', qAngle: 'You pull 45° off the line. How much harder is it?',
  qHand: 'To raise the load by 1 m, how far does the hand go?', aHand: '{0} m of rope: {1} times, as the advantage without friction.', qHard: 'Which strand carries most?',
  aReal: 'About {0}.', aAngle: '{0} instead of {1}.', aSlipHold: 'Hands off, the captures hold: {0}. The grip carries {1} then.', aSlipNone: 'No capture holds in this rig: the load falls back.',
  pickTwo: 'Two rigs are needed: let the search find some first.',
  // names of what stands in a scene
  n_load: 'the load', n_lip: 'the edge', n_station: 'the station', n_anchor: 'the anchor', n_hand: 'the hand', n_loose: 'the loose end',
  n_block: 'block {0}',
} as const;
export type MessageKey = keyof typeof en;
export type Messages = { readonly [K in MessageKey]: string };
