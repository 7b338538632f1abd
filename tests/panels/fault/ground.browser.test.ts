import { afterEach, describe, expect, it } from 'vitest'
import { page } from 'vitest/browser'
import type { AppState } from '../../../src/state/appState.ts'
import { firstPerson } from '../../../src/state/faultSetup.ts'
import { groundTexts } from '../../../src/text/faultGroundText.ts'
import { button, region, showFault, siteWith } from './faultHarness.ts'

afterEach(() => page.viewport(1280, 800))

const frame = 'R3/T1/F2.5'
const phase = {
  id: 'phase',
  form: 'ac' as const,
  name: 'Phase of the house',
  phaseV: 230,
  frequencyHz: 50,
  sourceOhm: 0.3,
  returnPart: null as string | null,
}
const fuse = {
  id: 'fuse',
  name: 'Fuse',
  form: 'fuse' as const,
  characteristic: 'gG',
  ratedA: 32,
  protects: 'phase',
  note: '',
}
const throughSoil = () => siteWith(() => ({ sources: [phase], devices: [fuse] }))
/** The phase returns to the bar; posts stand in nothing that conducts, and these rods are not connected. */
const throughMetal = (loose: readonly string[]) =>
  siteWith((drawing) => ({
    sources: [{ ...phase, returnPart: 'B1' }],
    devices: [],
    tableTypes: drawing.tableTypes.map((type) => ({
      ...type,
      posts: type.posts && { ...type.posts, soil: null },
    })),
    conductors: drawing.conductors.map((conductor) => ({
      ...conductor,
      points: conductor.points.map((point) =>
        point.landing && loose.includes(point.landing.part) ? { ...point, landing: null } : point,
      ),
    })),
  }))
const at = (more: object) => (app: AppState) => app.faultDesk.set({ at: frame, ...more })
const ground = region(groundTexts.title)
const here = region(groundTexts.here)
const toggle = page.getByRole('switch', { name: groundTexts.show })

describe('volts of the ground', () => {
  it('are switched on for what the map shows, and asked again only where that does not do', async () => {
    const { app, settle } = await showFault(throughSoil(), at({}))
    const desk = app.faultDesk.ground
    desk.look({ minX: 0, minY: 0, maxX: 60, maxY: 40, pxPerM: 12 })
    await expect.element(toggle).toHaveAttribute('aria-checked', 'false')
    expect(desk.marks).toBeNull()
    await toggle.click()
    await settle()
    const first = desk.marks!.picture!
    expect(first.volt.length).toBe(first.across * first.high)
    expect(Math.max(...first.volt)).toBeGreaterThan(50)
    // a little aside and nearer: the same picture
    desk.look({ minX: 3, minY: 1, maxX: 62, maxY: 40, pxPerM: 12.2 })
    await settle()
    expect(desk.marks!.picture!.volt).toBe(first.volt)
    desk.look({ minX: 200, minY: 0, maxX: 260, maxY: 40, pxPerM: 12 })
    await settle()
    expect(desk.marks!.picture!.volt).not.toBe(first.volt)
    // another fault: the older picture stays until its own comes
    app.faultDesk.set({ conductorOhm: 1 })
    const older = desk.marks!.picture!.volt
    await app.faultDesk.refresh()
    expect(desk.marks!.picture!.volt).toBe(older)
    await settle()
    expect(Math.max(...desk.marks!.picture!.volt)).toBeLessThan(Math.max(...older))
    await toggle.click()
    expect(desk.marks).toBeNull()
    expect(desk.voltAt({ x: 230, y: 20 })).toBeNull()
  })

  it('are off, and the switch says why, where all the current returns through metal', async () => {
    // one rod alone joins the array to the soil: nothing comes back through it
    const { app, settle } = await showFault(throughMetal(['G2']), at({}))
    await settle()
    expect(app.faultDesk.problems).toEqual([])
    expect(app.faultDesk.shown!.voltsTo).toBe('remoteEarth')
    await expect.element(toggle).toHaveAttribute('aria-disabled', 'true')
    await expect.element(ground.getByText(groundTexts.metalOnly)).toBeVisible()
  })

  it('are off where no soil joins the array, and nothing is asked', async () => {
    const { app, settle } = await showFault(throughMetal(['G1', 'G2']), at({}))
    await settle()
    expect(app.faultDesk.problems).toEqual([])
    expect(app.faultDesk.shown!.voltsTo).toBe('reference')
    await expect.element(ground.getByText(groundTexts.noSoil)).toBeVisible()
    expect(app.faultDesk.ground.told).toBeNull()
    await toggle.click({ force: true })
    expect(app.faultDesk.ground.isOn).toBe(false)
  })
})

describe('the card of the ground', () => {
  it('has the largest step, shows it on the map, and what rules permit for as long as the fault lasts', async () => {
    const { app, settle, shown } = await showFault(throughSoil(), at({}))
    await settle()
    const { mostStep } = app.faultDesk.ground.told!.answer
    await expect.element(ground.getByText(/The largest step of one metre is/)).toBeVisible()
    await expect.element(ground.getByText(/IEEE Std 80, 2013, 8.3.*50 kg/)).toBeVisible()
    await button(groundTexts.showStep).click()
    expect(shown).toEqual([mostStep!.fromM])
    expect(app.faultDesk.ground.isOn).toBe(true)
    // both rods that are drawn, the one with more volts first
    await expect.element(ground.getByText(/^North rod:/)).toBeVisible()
    await expect.element(ground.getByText(/^South rod:/)).toBeVisible()
  })

  it('says of a rule that it says nothing of direct current', async () => {
    const site = siteWith((drawing) => ({
      sources: drawing.sources.map((source) =>
        source.form === 'pvString' ? { ...source, referencing: 'earthedNegative' as const } : source,
      ),
    }))
    const { settle } = await showFault(site, at({ earthed: 'remoteEarth' }))
    await settle()
    await expect
      .element(ground.getByText(/tolerable step voltage, 50 kg: no answer.*says nothing of direct current/))
      .toBeVisible()
  })

  it('is told of a place by keyboard and lets it go again', async () => {
    const { app, settle } = await showFault(throughSoil(), (state) => {
      at({})(state)
      state.selection.pick({ kind: 'part', address: frame })
    })
    await settle()
    const select = ground.getByLabelText(groundTexts.place)
    await select.selectOptions('1 m from frame 2.5, table 3-01, Row 3')
    await settle()
    expect(app.faultDesk.ground.place).toEqual({ besidePart: frame })
    await expect.element(here.getByText(/^The ground here stands at/)).toBeVisible()
    await expect.element(here.getByText(/between it and the ground here/).first()).toBeVisible()
    expect(app.faultDesk.ground.marks!.stand!.atM).toEqual(app.faultDesk.ground.told!.answer.stand!.atM)
    await select.selectOptions(groundTexts.atMost)
    await settle()
    const { stand, mostStep } = app.faultDesk.ground.told!.answer
    expect(stand!.step.volt).toBeCloseTo(mostStep!.volt, 6)
    await here.getByRole('button', { name: groundTexts.close }).click()
    await expect.element(here).not.toBeInTheDocument()
    expect(app.faultDesk.ground.marks).toBeNull()
  })

  it('holds the touch against rules with the ground, the shoes and the reach of the person', async () => {
    const { app, settle } = await showFault(throughSoil(), (state) => {
      at({})(state)
      state.faultDesk.ground.stand({ besidePart: frame })
    })
    await settle()
    const permitted = () => app.faultDesk.ground.told!.answer.stand!.touch[0].person.permitted
    const before = permitted().find(({ rule }) => rule === 'permittedIeee80Kg50')!.volt!
    app.faultDesk.set({
      person: { ...firstPerson, hand: frame, surface: { ohmM: 10_000, thicknessM: 0.1 }, armReachM: 2.5 },
    })
    await settle()
    expect(app.faultDesk.ground.told!.input.armReachM).toBe(2.5)
    const after = permitted().find(({ rule }) => rule === 'permittedIeee80Kg50')!.volt!
    expect(after).toBeGreaterThan(2 * before)
    await expect.element(here.getByText(/IEEE Std 80, 2013, 8.4.*touch voltage, 50 kg/)).toBeVisible()
  })
})
