/** One card of the first visit: a heading and at most two lines on a phone. */
export interface StoryCard {
  readonly title: string
  readonly text: string
}

/** The demo told in five cards. `isTouch`: whether a pair is linked by a finger or by a mouse. */
export function storyCards(isTouch: boolean): readonly StoryCard[] {
  return [
    {
      title: 'A field seen from above',
      text: 'Rows to scale. Every line between two parts is a reading someone took.',
    },
    {
      title: 'The ringed joint',
      text: 'This jumper is the likeliest bad one. The list gives its probability.',
    },
    {
      title: 'Why this one',
      text: 'Two readings cross it and read high. Pick one: its current is drawn.',
    },
    {
      title: 'Link a pair, type the ohms',
      text: `${isTouch ? 'Tap' : 'Click'} the link button, then two parts. The ranking follows the ohms.`,
    },
    {
      title: 'What cannot be seen',
      text: 'An open joint hides where metal runs in parallel. The list says where.',
    },
  ]
}
