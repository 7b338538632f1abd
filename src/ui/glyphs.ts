/** Strokes on a grid of 24; each stands beside a word or has a spoken name. */
export const glyphs = {
  close: 'M6 6l12 12M18 6L6 18',
  plus: 'M12 5v14M5 12h14',
  minus: 'M5 12h14',
  fit: 'M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5M9 9h6v6H9z',
  link: 'M5 17a2 2 0 1 0 .01 0M19 7a2 2 0 1 0 .01 0M6.6 15.6L17.4 8.4',
  unfold: 'M8 5l7 7-7 7',
  fold: 'M5 8l7 7 7-7',
  back: 'M15 5l-7 7 7 7',
  undo: 'M8 5L4 9l4 4M4 9h10a5.5 5.5 0 0 1 0 11H9',
  redo: 'M16 5l4 4-4 4M20 9H10a5.5 5.5 0 0 0 0 11h5',
  question: 'M8.5 9a3.5 3.5 0 1 1 5 3.2c-1 .5-1.5 1.2-1.5 2.3M12 18.5v.01',
  sheets: 'M8 8V4h12v12h-4M4 8h12v12H4z',
  more: 'M5 12h.01M12 12h.01M19 12h.01',
  check: 'M4.5 12.5l5 5 10-11',
  erase: 'M9 5h11v14H9l-6-7zM12.5 9.5l4.5 5M17 9.5l-4.5 5',
  shade: 'M12 4a8 8 0 1 0 .01 0M12 4v16M15 6v12M18 8.5v7',
  target: 'M12 6a6 6 0 1 0 .01 0M12 2v5M12 17v5M2 12h5M17 12h5',
  open: 'M4 19V5h6l2 3h8v11z',
  keep: 'M12 4v11M7 10l5 5 5-5M5 20h14',
} as const

export type GlyphName = keyof typeof glyphs
