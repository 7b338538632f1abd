import { afterEach, describe, expect, it } from 'vitest'
import { browserLocks, claimSite, type LockEnvironment, type SiteClaim } from '../../src/storage/siteLock.ts'

let count = 0
const open: SiteClaim[] = []

/** A claim as one tab makes it, and what it was told. */
async function claim(site: string, environment: LockEnvironment = browserLocks()) {
  const told: string[] = []
  const made = await claimSite(
    site,
    {
      onHeld: () => told.push('held'),
      onLost: () => told.push('lost'),
      onSaved: () => told.push('saved'),
    },
    environment,
  )
  open.push(made)
  return { claim: made, told }
}

const site = () => `site ${count}`
const waiting = async () =>
  ((await navigator.locks.query()).pending ?? []).filter(({ name }) => name?.endsWith(site())).length

afterEach(() => {
  for (const made of open.splice(0)) made.release()
  count++
})

describe('a site that two tabs open', () => {
  it('is held by the first alone; another site is another matter', async () => {
    const [first, second, other] = [await claim(site()), await claim(site()), await claim('another')]
    expect([first, second, other].map((each) => each.claim.isHeld)).toEqual([true, false, true])
    expect([first, second, other].flatMap(({ told }) => told)).toEqual([])
  })

  it('goes to the one that waits when the first lets go, and one only is told', async () => {
    const [first, second, third] = [await claim(site()), await claim(site()), await claim(site())]
    first.claim.release()
    await expect.poll(() => second.told).toEqual(['held'])
    expect(second.claim.isHeld).toBe(true)
    expect([first.claim.isHeld, third.claim.isHeld]).toEqual([false, false])
    second.claim.release()
    await expect.poll(() => third.told).toEqual(['held'])
  })

  it('goes on when the tab of the first ends without a word', async () => {
    const frame = document.body.appendChild(document.createElement('iframe'))
    const inFrame = await claim(site(), {
      locks: frame.contentWindow!.navigator.locks,
      openChannel: undefined,
    })
    const second = await claim(site())
    expect([inFrame.claim.isHeld, second.claim.isHeld]).toEqual([true, false])
    frame.remove()
    await expect.poll(() => second.told).toEqual(['held'])
  })

  it('can be taken over; the one that held it is told and waits in turn', async () => {
    const [first, second] = [await claim(site()), await claim(site())]
    await second.claim.takeOver()
    expect(second.claim.isHeld).toBe(true)
    await expect.poll(() => first.told).toEqual(['lost'])
    expect(first.claim.isHeld).toBe(false)
    await expect.poll(waiting).toBe(1)
    second.claim.release()
    await expect.poll(() => first.told).toEqual(['lost', 'held'])
    expect(second.told).toEqual([])
  })

  it('is left in line by a tab that goes before its turn', async () => {
    const [first, second] = [await claim(site()), await claim(site())]
    second.claim.release()
    await expect.poll(waiting).toBe(0)
    first.claim.release()
    const third = await claim(site())
    await expect.poll(async () => third.claim.isHeld).toBe(true)
    expect(second.told).toEqual([])
  })

  it('tells those who look on when it was saved, and not itself', async () => {
    const [first, second, other] = [await claim(site()), await claim(site()), await claim('another')]
    first.claim.tellSaved()
    await expect.poll(() => second.told).toEqual(['saved'])
    second.claim.tellSaved()
    first.claim.release()
    await expect.poll(() => second.told).toEqual(['saved', 'held'])
    expect([first.told, other.told]).toEqual([[], []])
  })
})

describe('a browser without locks', () => {
  it('lets every tab hold the site: the store has the last word on conflicts', async () => {
    const none = { locks: undefined, openChannel: undefined }
    const [first, second] = [await claim(site(), none), await claim(site(), none)]
    expect([first.claim.isHeld, second.claim.isHeld]).toEqual([true, true])
    first.claim.release()
    expect(first.claim.isHeld).toBe(false)
  })

  it('is taken for one where it refuses them', async () => {
    const request = () => Promise.reject(new DOMException('not here', 'SecurityError'))
    const made = await claim(site(), { locks: { request }, openChannel: undefined })
    expect(made.claim.isHeld).toBe(true)
  })
})
