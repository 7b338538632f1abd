import type { Page } from 'playwright'

/** A thumb on the large keys: as many taps as digits, at the places where the keys lie. */
export interface KeypadHand {
  /** Digits and points of the value. */
  type(digits: string): Promise<void>
  /** The same, and then the key that enters the reading. */
  press(digits: string): Promise<void>
}

/** @param page of a touch screen, where the keys are there once a pair is chosen */
export function keypadHand(page: Page): KeypadHand {
  const keys = page.getByRole('group', { name: 'Keys for the resistance' })

  /** Where every key lies, asked once for all taps: nothing moves the keys while digits are typed. */
  async function places(): Promise<Map<string, { x: number; y: number }>> {
    const found = await keys.getByRole('button').evaluateAll((buttons) =>
      buttons.map((button) => {
        const { x, y, width, height } = button.getBoundingClientRect()
        const name = button.getAttribute('aria-label') ?? button.textContent.trim()
        return [name, { x: x + width / 2, y: y + height / 2 }] as const
      }),
    )
    return new Map(found)
  }

  async function tap(names: readonly string[]): Promise<void> {
    await keys.waitFor()
    const at = await places()
    for (const name of names) {
      const { x, y } = at.get(name)!
      await page.touchscreen.tap(x, y)
    }
  }

  const namesOf = (digits: string) => [...digits].map((digit) => (digit === '.' ? 'point' : digit))
  return {
    type: (digits) => tap(namesOf(digits)),
    press: (digits) => tap([...namesOf(digits), 'Enter the reading']),
  }
}
