import type { LineLook } from '../state/readingLook.ts'

export type ThemeName = 'light' | 'dark' | 'sunlight'

/**
 * The colours of the map, as #rrggbb. Nothing is told by hue alone: readings differ by line and marker, suspects
 * by size and lightness, current by width. Suspicion is the only warm hue, so that it also stands apart for
 * eyes that do not tell red from green.
 */
export interface Palette {
  readonly name: ThemeName
  readonly ground: string
  /** Marks on empty ground by which the eye holds on while the view moves; aisles; obstacles. */
  readonly groundMark: string
  readonly aisle: string
  /** What a table darkens beside it, so that it stands above the ground. */
  readonly shadow: string
  readonly obstacle: string
  /** A table seen from far, where its modules are too small to be drawn. */
  readonly tableFar: string
  readonly tableEdge: string
  readonly module: string
  readonly moduleEdge: string
  readonly cellLine: string
  readonly seam: string
  readonly member: string
  readonly post: string
  readonly joint: string
  /** Inside of symbols and rims around lines, so that they stay apart from what lies below. */
  readonly halo: string
  readonly conductor: string
  readonly equipment: string
  readonly equipmentFill: string
  readonly current: string
  /** Ends of the ramp of suspicion: hardly suspected, almost certain. */
  readonly suspectLow: string
  readonly suspectHigh: string
  /**
   * What a plan would show of a joint, and of a table from far: over the criterion, by comparison only, hidden; inside of
   * the outline of a table of which nothing shows.
   */
  readonly shown: string
  readonly compared: string
  readonly hidden: string
  readonly tableEmpty: string
  /** Volts of a part or of a lost joint, from the first step of `voltSteps` to beyond the last; each further from the ground. */
  readonly volt1: string
  readonly volt2: string
  readonly volt3: string
  readonly volt4: string
  readonly volt5: string
  /** Volts of the ground by the same steps, without hue; and the line where a step begins. */
  readonly ground1: string
  readonly ground2: string
  readonly ground3: string
  readonly ground4: string
  readonly ground5: string
  readonly groundLine: string
  readonly readings: Readonly<Record<LineLook, string>>
  readonly selection: string
  readonly hover: string
  readonly link: string
  readonly label: string
  readonly labelPlate: string
}

const light: Palette = {
  name: 'light',
  ground: '#f1f0e9',
  groundMark: '#cfcec2',
  aisle: '#e8e6da',
  shadow: '#dad8cb',
  obstacle: '#a39d8b',
  tableFar: '#6b8a9f',
  tableEdge: '#3f5a6c',
  module: '#b4cad8',
  moduleEdge: '#eef4f7',
  cellLine: '#a9c2d1',
  seam: '#eef4f7',
  member: '#4c5d68',
  post: '#2b363c',
  joint: '#1b292f',
  halo: '#ffffff',
  conductor: '#27433a',
  equipment: '#1b292f',
  equipmentFill: '#ffffff',
  current: '#45127f',
  suspectLow: '#bb6c31',
  suspectHigh: '#9c1c00',
  shown: '#0b3f6e',
  compared: '#2f78b4',
  hidden: '#6b0f5c',
  tableEmpty: '#f6f5f0',
  volt1: '#e3e99a',
  volt2: '#a3cf6b',
  volt3: '#4fa166',
  volt4: '#176a72',
  volt5: '#10365f',
  ground1: '#e3e2de',
  ground2: '#d2d2cf',
  ground3: '#c0c0be',
  ground4: '#a9abac',
  ground5: '#909396',
  groundLine: '#4a4d50',
  readings: {
    within: '#1f5f4b',
    investigate: '#9c1c00',
    overRange: '#7a1450',
    poorContact: '#7a4a00',
    noMetalPath: '#7a1450',
    tooLow: '#27418f',
    setAside: '#5d6a71',
    waiting: '#4c5d66',
    planned: '#27418f',
    required: '#27418f',
    proposed: '#27418f',
    leadIn: '#27418f',
    timesBelow: '#27418f',
    timesNear: '#1f5f4b',
    timesRaised: '#7a4a00',
    timesHigh: '#9c1c00',
    timesFar: '#9c1c00',
  },
  selection: '#1c64d1',
  hover: '#4a80cc',
  link: '#1c64d1',
  label: '#1b292f',
  labelPlate: '#ffffff',
}

const dark: Palette = {
  name: 'dark',
  ground: '#11181c',
  groundMark: '#3b4a52',
  aisle: '#2a363c',
  shadow: '#0a0f12',
  obstacle: '#5c6a70',
  tableFar: '#4b6b80',
  tableEdge: '#7d9cae',
  module: '#22384a',
  moduleEdge: '#54738a',
  cellLine: '#2a4458',
  seam: '#0d1519',
  member: '#8fa3ad',
  post: '#c3d0d6',
  joint: '#e5ecee',
  halo: '#0b1013',
  conductor: '#a9d2bd',
  equipment: '#e5ecee',
  equipmentFill: '#1d292f',
  current: '#dcc0ff',
  suspectLow: '#b06a38',
  suspectHigh: '#ff9a5e',
  shown: '#9fd0ff',
  compared: '#5fa0dd',
  hidden: '#ffa8ee',
  tableEmpty: '#11181c',
  volt1: '#1f5061',
  volt2: '#23787a',
  volt3: '#45a676',
  volt4: '#9cd067',
  volt5: '#f0f39a',
  ground1: '#1d2327',
  ground2: '#2a3034',
  ground3: '#394044',
  ground4: '#4b5256',
  ground5: '#60686c',
  groundLine: '#a9b2b6',
  readings: {
    within: '#7fd0b0',
    investigate: '#ff8f66',
    overRange: '#ff9bd0',
    poorContact: '#e8c06a',
    noMetalPath: '#ff9bd0',
    tooLow: '#9db8ff',
    setAside: '#93a1a8',
    waiting: '#b3c0c6',
    planned: '#9db8ff',
    required: '#9db8ff',
    proposed: '#9db8ff',
    leadIn: '#9db8ff',
    timesBelow: '#9db8ff',
    timesNear: '#7fd0b0',
    timesRaised: '#e8c06a',
    timesHigh: '#ff8f66',
    timesFar: '#ff8f66',
  },
  selection: '#4fa3f7',
  hover: '#5a97cf',
  link: '#4fa3f7',
  label: '#e5ecee',
  labelPlate: '#0b1013',
}

const sunlight: Palette = {
  name: 'sunlight',
  ground: '#ffffff',
  groundMark: '#c4c4c4',
  aisle: '#f1f1ee',
  shadow: '#d9d9d9',
  obstacle: '#808080',
  tableFar: '#6d8494',
  tableEdge: '#000000',
  module: '#c3d6e2',
  moduleEdge: '#ffffff',
  cellLine: '#b0c6d4',
  seam: '#8fa6b4',
  member: '#3a3a3a',
  post: '#000000',
  joint: '#000000',
  halo: '#ffffff',
  conductor: '#004a35',
  equipment: '#000000',
  equipmentFill: '#ffffff',
  current: '#2a0070',
  suspectLow: '#b85a14',
  suspectHigh: '#8f0f00',
  shown: '#00285c',
  compared: '#1f69ad',
  hidden: '#5c004f',
  tableEmpty: '#ffffff',
  volt1: '#dfe98a',
  volt2: '#97cc5c',
  volt3: '#3a9a58',
  volt4: '#00626a',
  volt5: '#002a5c',
  ground1: '#ebebeb',
  ground2: '#d6d6d6',
  ground3: '#bfbfbf',
  ground4: '#a5a5a5',
  ground5: '#888888',
  groundLine: '#1a1a1a',
  readings: {
    within: '#003d2b',
    investigate: '#7a0d00',
    overRange: '#5c003a',
    poorContact: '#573300',
    noMetalPath: '#5c003a',
    tooLow: '#001f7a',
    setAside: '#4a4a4a',
    waiting: '#333333',
    planned: '#001f7a',
    required: '#001f7a',
    proposed: '#001f7a',
    leadIn: '#001f7a',
    timesBelow: '#001f7a',
    timesNear: '#003d2b',
    timesRaised: '#573300',
    timesHigh: '#7a0d00',
    timesFar: '#7a0d00',
  },
  selection: '#0a58d0',
  hover: '#2a5fc0',
  link: '#0a58d0',
  label: '#000000',
  labelPlate: '#ffffff',
}

export const palettes: Readonly<Record<ThemeName, Palette>> = { light, dark, sunlight }

/** Red, green, blue, 0 … 255 each, of #rrggbb. */
export function channelsOf(colour: string): readonly [number, number, number] {
  const value = Number.parseInt(colour.slice(1), 16)
  return [value >> 16, (value >> 8) & 0xff, value & 0xff]
}

/** A colour on the straight way from `low` (share 0) to `high` (share 1). */
export function mixOf(low: string, high: string, share: number): string {
  const a = channelsOf(low)
  const b = channelsOf(high)
  const hex = a.map((from, i) =>
    Math.round(from + (b[i] - from) * share)
      .toString(16)
      .padStart(2, '0'),
  )
  return `#${hex.join('')}`
}

/** Share of the ramp of suspicion: the square root, so that a tenth is already a third of the way. */
export function suspicionShare(probability: number): number {
  return Math.sqrt(Math.min(Math.max(probability, 0), 1))
}

export function suspectColour(palette: Palette, probability: number): string {
  return mixOf(palette.suspectLow, palette.suspectHigh, suspicionShare(probability))
}
