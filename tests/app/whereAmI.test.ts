import { describe, expect, it } from 'vitest'
import { WhereAmI } from '../../src/app/whereAmI.svelte.ts'

const anchor = { latitudeDeg: 52, longitudeDeg: 5, bearingDeg: 0 }

/** A device that answers when the test says so. */
function device() {
  const said: string[] = []
  const calls: { answer: PositionCallback; refuse: PositionErrorCallback; options: PositionOptions }[] = []
  const geolocation = {
    getCurrentPosition: (answer: PositionCallback, refuse: PositionErrorCallback, options: PositionOptions) =>
      calls.push({ answer, refuse, options }),
  } as unknown as Geolocation
  const answer = (call: number, latitude: number, longitude: number) =>
    calls[call].answer({ coords: { latitude, longitude, accuracy: 8 } } as GeolocationPosition)
  const refuse = (code: number) => {
    const error = { code, PERMISSION_DENIED: 1, POSITION_UNAVAILABLE: 2, TIMEOUT: 3 }
    calls[0].refuse(error as GeolocationPositionError)
  }
  const here = new WhereAmI(geolocation, (sentence) => said.push(sentence))
  return { here, said, calls, answer, refuse }
}

describe('where the device is', () => {
  it('is asked for anew each time and shown in metres of the drawing', () => {
    const { here, said, calls, answer } = device()
    here.ask(anchor, 'metric')
    expect(here.mark).toBeNull()
    answer(0, 52.001, 5)
    // a minute of arc of the meridian is about 1855 m at 52°, a thousandth of a degree 111.3 m
    expect(here.mark!.atM.y).toBeCloseTo(111.27, 1)
    expect(here.mark!.atM.x).toBeCloseTo(0, 6)
    expect(here.mark!.accuracyM).toBe(8)
    expect(said.at(-1)).toContain('give or take 8')
    here.ask(anchor, 'metric')
    expect(here.mark).toBeNull()
    expect(calls.map(({ options }) => options.maximumAge)).toEqual([0, 0])
  })

  it('is not shown once it was put away, nor on the other side of the earth', () => {
    const { here, said, answer } = device()
    here.ask(anchor, 'metric')
    here.hide()
    answer(0, 52.001, 5)
    expect(here.mark).toBeNull()
    here.ask(anchor, 'metric')
    answer(1, -52, -175)
    expect(here.mark).toBeNull()
    expect(said.at(-1)).toContain('does not show it')
  })

  it.each([
    [1, 'not allowed'],
    [2, 'does not know'],
    [3, 'half a minute'],
  ])('that is not told (code %i) is said, with what to do', (code, words) => {
    const { here, said, refuse } = device()
    here.ask(anchor, 'metric')
    refuse(code)
    expect(said.at(-1)).toContain(words)
    expect(here.mark).toBeNull()
  })
})
