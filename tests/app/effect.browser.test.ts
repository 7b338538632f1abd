import { flushSync } from 'svelte'
import { expect, it } from 'vitest'
import { countEffects } from './countEffects.svelte.ts'

// Outside a browser effects never run and nothing says so: tests of effects belong in files like this one.
it('an effect runs at first, after each change and no more after its end', () => {
  const counted = countEffects()
  flushSync()
  expect(counted.runs()).toBe(1)
  counted.set(7)
  flushSync()
  expect(counted.runs()).toBe(2)
  counted.set(7)
  flushSync()
  expect(counted.runs()).toBe(2)
  counted.stop()
  counted.set(8)
  flushSync()
  expect(counted.runs()).toBe(2)
})
