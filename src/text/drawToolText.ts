import type { HelpLine } from './helpText.ts'
import { formatCounted } from './units.ts'

/** Names of the drawing tools and how each is worked, by mouse or finger. */
export const drawToolTexts = {
  select: {
    name: 'Choose',
    how: 'Tap a thing to choose it; tap it again for its table, part or joint. What is chosen can be dragged. Shift adds.',
  },
  row: {
    name: 'Row',
    how: 'Drag along the lower edge of the tables, or tap its start and its end. The tables rise to the left of the line.',
  },
  block: {
    name: 'Repeat',
    how: 'Choose rows or other things first. Then drag from them to where the next ones stand, and on for more of them.',
  },
  equipment: { name: 'Equipment', how: 'Tap where it stands.' },
  electrode: {
    name: 'Electrode',
    how: 'Tap where a rod or plate goes into the soil. Strips and rings: tap point after point, then finish.',
  },
  conductor: {
    name: 'Conductor',
    how: 'Tap part after part: each tap on metal is a lug there, a tap on the ground only a bend. Then finish.',
  },
  ground: { name: 'Ground', how: 'Aisles and obstacles, for walking: tap point after point, then finish.' },
  joint: {
    name: 'Metal path',
    how: 'Tap one metal part, then another: fence, tray, drive shaft, or a jumper of its own.',
  },
  distance: { name: 'Distance', how: 'Tap point after point. Nothing is drawn.' },
} as const

export const drawTexts = {
  tools: 'Drawing tools',
  snap: 'Snap to ends, lines and grid',
  snapHint: 'Held down, Alt lets places go free for one gesture.',
  refused: 'This cannot be drawn here: it would be more than a site may hold, or nothing at all.',
  box: 'Drag a box to choose',
  boxHint: 'With Shift a drag on the ground does so too.',
  touches: 'The box takes all it touches',
  touchesHint: 'Off: only what lies wholly inside.',
  finish: 'Finish',
  back: 'Point back',
  giveUp: 'Give up',
  types: 'Table types',
  facts: 'Site and catalogue',
  findings: 'Found different',
  bringIn: 'Bring in a list or map file',
  takeOut: 'Take out map and lists',
  remove: 'Remove',
  fromNothing:
    'Nothing is drawn yet. Make a table type, then draw rows of it; or bring in a list of rows or a map file.',
  readOnly: 'Another tab holds this site: it can be looked at here, not drawn on.',
  copied: (what: string) => `Copied: ${what}.`,
  nothingCopied: 'Nothing has been copied yet.',
  /** `loose`: landings of conductors that went with it. */
  removed: (what: string, loose: number) =>
    `Removed: ${what}. ${loose > 0 ? `Conductors no longer land in ${formatCounted(loose, 'place')}. ` : ''}Undo brings it back.`,
  looseEnds: (label: string, loose: number) =>
    `Done: ${label}. ${loose === 1 ? 'One end lands' : 'Both ends land'} on nothing: drag it onto metal to join it.`,
  cardFirst: (what: string) =>
    `Delete takes out ${what} as a whole. Close the card of the part or joint first, if that is meant.`,
  nudge: 'move a little',
  paste: 'paste',
  removeStep: (what: string) => `remove ${what}`,
} as const

/** All keys of drawing. */
export const drawKeys: readonly HelpLine[] = [
  {
    by: '1 … 9',
    does: 'take a tool: choose, row, repeat, equipment, electrode, conductor, ground, metal path, distance',
  },
  {
    by: 'Arrow keys',
    does: 'move what is chosen by one line of the grid, with Shift by ten; else move the cross',
  },
  { by: 'Space', does: 'taps at the cross; held down while dragging, it moves the map' },
  { by: 'Enter, Backspace, Escape', does: 'end a line, take its last point back, give up' },
  { by: 'Page Down, Page Up', does: 'choose the next or the previous thing drawn' },
  { by: 'Delete', does: 'removes what is chosen; its readings stay in the record' },
  { by: 'Ctrl or Cmd with A, C, X, V', does: 'choose all, copy, cut, paste' },
  { by: 'Ctrl or Cmd with Z, Shift Z', does: 'undo, redo' },
  { by: 'Shift, Alt', does: 'add to the choice or keep to right angles; no snapping while held' },
  { by: '+, −, 0', does: 'closer, further away, the whole site' },
  { by: '?', does: 'this list' },
]

/** The form of what the next thing is made of. */
export const makingTexts = {
  next: {
    row: 'The next row',
    block: 'The copies',
    equipment: 'The next piece of equipment',
    electrode: 'The next electrode',
    conductor: 'The next conductor',
    ground: 'The next way or obstacle',
    joint: 'The next metal path',
  },
  type: 'Table type',
  tables: 'Tables',
  byLength: 'as the line is long',
  gap: 'Gap between tables',
  jumpers: 'Jumpers between tables',
  links: ['none', 'one', 'two'],
  linkKind: 'Their kind',
  pitch: 'From one to the next',
  copies: 'How many more',
  byDrag: 'as dragged',
  what: 'What',
  equipment: [
    { id: 'enclosure', label: 'Enclosure' },
    { id: 'earthBar', label: 'Earth bar' },
  ],
  electrodes: [
    { id: 'rod', label: 'Rod' },
    { id: 'plate', label: 'Plate' },
    { id: 'strip', label: 'Strip or wire' },
    { id: 'ring', label: 'Ring' },
  ],
  grounds: [
    { id: 'aisle', label: 'Aisle to walk along' },
    { id: 'obstacle', label: 'Obstacle to walk round' },
  ],
  width: 'Width',
  depth: 'Depth',
  bearing: 'Bearing',
  rodLength: 'Length in soil',
  diameter: 'Diameter',
  plateArea: 'Area of one side',
  buried: 'Depth in soil',
  stripHint: 'Of a flat strip: half its width.',
  material: 'Metal',
  size: 'Size',
  lug: 'Joint at metal parts',
  electrodeKind: 'Joint at electrodes',
  extraKind: 'Kind of joint',
} as const
