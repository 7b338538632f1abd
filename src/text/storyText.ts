/** One card of the first visit: a heading and at most two lines. */
export interface StoryCard {
  readonly title: string
  readonly text: string
}

/** The demo told in five cards. `dragging`: whether a pair is linked by a finger or by a mouse. */
export function storyCards(isTouch: boolean): readonly StoryCard[] {
  return [
    {
      title: 'A field seen from above',
      text: 'Rows of tables, drawn to scale. Every line between two parts is a reading that a crew took.',
    },
    {
      title: 'The ringed joint',
      text: 'This jumper is the likeliest to be bad. The ring carries its rank, the list its probability.',
    },
    {
      title: 'Why this one',
      text: 'Two readings cross it and read high. Pick one in the list: its current is drawn, joint by joint.',
    },
    {
      title: 'Link a pair, type the ohms',
      text: `${isTouch ? 'Tap' : 'Click'} “Link two parts”, then one part and another. The ranking follows what you type.`,
    },
    {
      title: 'What cannot be seen',
      text: 'Where metal runs in parallel, an open joint hides. The list says where, and what would show it.',
    },
  ]
}
