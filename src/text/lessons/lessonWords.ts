/** A word of the trade in plain ones. */
export interface LessonWord {
  readonly word: string
  readonly means: string
}

/** Every word that a lesson uses and a crew may not know; `when` finds it in a text. In the order in which they build on each other. */
const words: readonly (LessonWord & { readonly when: RegExp })[] = [
  { word: 'Module', means: 'one solar panel.', when: /\bmodules?\b/i },
  { word: 'Frame', means: 'the metal edge of a module.', when: /\bframes?\b/i },
  { word: 'Rail', means: 'the long metal bar that modules lie on.', when: /\brails?\b/i },
  { word: 'Table', means: 'a stand of modules that share their rails and posts.', when: /\btables?\b/i },
  { word: 'Post', means: 'what a table stands on: metal driven into the soil.', when: /\bposts?\b/i },
  {
    word: 'Conductor',
    means: 'metal that is there to carry current: a wire or a cable.',
    when: /\bconductors?\b/i,
  },
  {
    word: 'String',
    means:
      'modules joined one behind the other, so that their volts add up to hundreds. In daylight it is always live.',
    when: /\bstrings?\b/i,
  },
  {
    word: 'Pole',
    means: 'one of the two ends of a string or an array: positive or negative.',
    when: /\b(poles?|positive|negative)\b/i,
  },
  {
    word: 'Inverter',
    means: 'the machine that makes what the modules give into what the grid takes.',
    when: /\binverters?\b/i,
  },
  {
    word: 'Current, ampere (A)',
    means:
      'what flows, counted in amperes. 1 mA is a thousandth. It always goes in a circle, back to where it came from.',
    when: /\b(currents?|amperes?|mA)\b|\d[\d.]* A\b/,
  },
  {
    word: 'Volt (V)',
    means:
      'what drives current from one place to another; always between two places. 1 mV is a thousandth. The map counts from soil ' +
      'far away; a minus is to its other side: between 5 V and −2 V there are 7 V.',
    when: /\b(volts?|mV)\b|\d[\d.]* V\b/,
  },
  {
    word: 'Ohm (Ω)',
    means:
      'how much a way holds current back. Sound metal has thousandths of an ohm (mΩ), soil has many ohms, insulation thousands (kΩ) and more.',
    when: /\bohms?\b|Ω/i,
  },
  {
    word: 'Bond',
    means:
      'a joint of metal to metal that is there to carry current in a fault, such as a clamp, a jumper or a lug. Bonds tie all ' +
      'metal that people can touch to each other and to the earth bar.',
    when: /\b(un)?bond(s|ed|ing)?\b/i,
  },
  {
    word: 'Clamp',
    means: 'holds a frame on its rail. Where its teeth bite through the coating it is a bond, too.',
    when: /\bclamps?\b/i,
  },
  {
    word: 'Coating',
    means: 'a thin film on the metal that keeps rust off, and current too.',
    when: /\bcoating\b/i,
  },
  { word: 'Jumper', means: 'a short strap or wire from one table to the next.', when: /\bjumpers?\b/i },
  { word: 'Lug', means: 'the end of a wire, pressed into an eye and bolted to metal.', when: /\blugs?\b/i },
  {
    word: 'Earth bar',
    means: 'the metal bar to which the bonds of the whole site lead.',
    when: /\b(earth|main|the) bar\b/i,
  },
  { word: 'Rod', means: 'metal driven into the soil to let current into it.', when: /\brods?\b/i },
  {
    word: 'Earthed',
    means: 'joined to the soil by metal, by way of rods or the earth bar.',
    when: /\bearth(ed|ing)\b/i,
  },
  {
    word: 'Floating',
    means: 'of an array: neither pole is earthed.',
    when: /\bfloat(s|ing)\b/i,
  },
  {
    word: 'Fault',
    means: 'a live conductor touches metal that should carry nothing.',
    when: /\bfaults?\b/i,
  },
  {
    word: 'Open, raised',
    means: 'of a bond: open, it joins nothing any more; raised, it joins with more ohms than it should have.',
    when: /\b(open|raised)\b/i,
  },
  {
    word: 'Reading',
    means: 'the ohms that an instrument shows between its two clips.',
    when: /\breadings?\b/i,
  },
  {
    word: 'Two-wire tester',
    means: 'an instrument with two clips; the ohms of clips and leads are in what it shows.',
    when: /\btwo-wire tester\b/i,
  },
  {
    word: 'Over range',
    means: 'more ohms than the instrument can show, or no way at all.',
    when: /\bover range\b/i,
  },
  {
    word: 'Insulation',
    means:
      'what keeps a conductor apart from metal around it. Monitoring measures its ohms from the poles to the earth bar and warns ' +
      'when they are few.',
    when: /\b(insulation|monitoring)\b/i,
  },
  {
    word: 'Transformer',
    means:
      'two coils that pass power on without a wire between them. Without one, array and grid are joined by metal.',
    when: /\btransformer\b/i,
  },
  {
    word: 'Mains, neutral',
    means:
      'mains: the supply of sockets and buildings. Its neutral is the conductor by which current goes back; it is earthed at the supply.',
    when: /\b(mains|neutral)\b/i,
  },
  {
    word: 'Breaker, fuse',
    means:
      'opens by itself when too much current flows. A breaker of class B opens at once from three to five times its amperes, and ' +
      'never up to those.',
    when: /\b(breakers?|fuses?)\b/i,
  },
  {
    word: 'Trip',
    means: 'to open by itself.',
    when: /\btrip(s|ped)?\b/i,
  },
  {
    word: 'Residual-current device',
    means: 'opens when some of the current that went out by a cable does not come back by it.',
    when: /\bresidual-current\b/i,
  },
  {
    word: 'Middling body ohms',
    means: 'half of all people have more, half have fewer: through those more current goes.',
    when: /\bmiddling body\b/i,
  },
]

/** The words that occur in these texts, and those that explain them, each with what it means. */
export function wordsIn(texts: readonly string[]): readonly LessonWord[] {
  const known = new Set<LessonWord>()
  let open = texts
  while (open.length > 0) {
    const all = open.join('\n')
    const found = words.filter((word) => !known.has(word) && word.when.test(all))
    for (const word of found) known.add(word)
    open = found.map(({ means }) => means)
  }
  return words.filter((word) => known.has(word)).map(({ word, means }) => ({ word, means }))
}
