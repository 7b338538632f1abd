import { pointerKey } from './faultScreenText.ts'

export interface HelpLine {
  /** Keys or gesture. */
  readonly by: string
  readonly does: string
}

export const mapKeys: readonly HelpLine[] = [
  { by: 'Arrow keys', does: 'to the next module or equipment; with Control to the next part of any kind' },
  { by: 'Enter', does: 'chooses it; again its joint, then its table' },
  { by: 'L', does: 'begins a pair here; L on another part links the two' },
  { by: 'Page Down, Page Up', does: 'through the suspects' },
  { by: '+, −, 0', does: 'closer, further away, the whole site' },
  { by: 'Shift with arrow keys', does: 'move the map' },
  {
    by: pointerKey.toUpperCase(),
    does: 'while a fault is looked at: opens what the number at the pointer was computed from',
  },
  { by: 'Escape', does: 'leaves off linking, lets go of what is chosen' },
]

export const listKeys: readonly HelpLine[] = [
  { by: 'Tab', does: 'to the next control; a list is one stop' },
  { by: 'Up and Down, Home, End', does: 'through a list' },
  { by: 'Enter or Space', does: 'choose the row, press the button' },
  { by: 'Enter in the volts', does: 'to the next empty field; with all four filled, enter them' },
  { by: 'Enter in the ohms', does: 'enter the reading' },
  { by: 'Escape', does: 'take back what was typed; close a dialogue' },
]

export const gestures: readonly HelpLine[] = [
  { by: 'Drag the ground', does: 'move the map' },
  { by: 'Wheel, or two fingers', does: 'closer, further away' },
  { by: 'Click or tap', does: 'choose a part, joint, reading or suspect' },
  { by: 'Link two parts, then two taps or a drag', does: 'begin a reading between them' },
]
