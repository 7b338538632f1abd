import axe from 'axe-core'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { saveSite } from '../../src/files/saveSite.ts'
import { problem } from '../../src/model/problem.ts'
import type { OpenedFile } from '../../src/storage/siteFiles.ts'
import SitesPanel from '../../src/panels/SitesPanel.svelte'
import type { AppState } from '../../src/state/appState.ts'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import { browserStorage } from '../../src/storage/storageEnvironment.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const hostile = '<img src=x onerror="globalThis.hurt = 1">'
const closers: (() => void)[] = []

afterEach(() => {
  for (const close of closers.splice(0)) close()
})

/** A page whose sites are kept in a database of its own. */
async function show() {
  const app = panelState(null)
  const databaseName = `groundweave-panels-${crypto.randomUUID()}`
  const opened = await openSiteStore(undefined, { ...browserStorage(), databaseName })
  if (!opened.ok) throw new Error('no store')
  closers.push(() => {
    app.library.close()
    opened.value.close()
    indexedDB.deleteDatabase(databaseName)
  })
  await app.library.begin(opened)
  const onclose = vi.fn<() => void>()
  const demos = [{ file: 'field.json', name: 'Larkmoor Field', about: '8 rows.' }]
  const ondemo = () => app.library.adopt({ ...fieldSite(), name: hostile })
  const onfile = async ({ site }: OpenedFile) => void (await app.joining.take(site))
  const props = { isOpen: true, onclose, demos, ondemo, onfile }
  await render(PanelHarness, { app, panels: [{ panel: SitesPanel, props }] })
  return { app, onclose }
}

async function openDemo(app: AppState) {
  await page.getByRole('button', { name: 'Open Larkmoor Field' }).click()
  await vi.waitFor(() => expect(app.library.sites).toHaveLength(1))
}

describe('the sites on this device', () => {
  it('opens a demo, keeps it, and shows a hostile name as text', async () => {
    const { app, onclose } = await show()
    await expect.element(page.getByText(/No site is kept on this device yet/)).toBeVisible()
    await openDemo(app)
    expect(onclose).toHaveBeenCalledOnce()
    await expect.element(page.getByText('50 readings, saved')).toBeVisible()
    await expect.element(page.getByText(hostile).first()).toBeVisible()
    expect(document.querySelector('img')).toBeNull()
    expect('hurt' in globalThis).toBe(false)
  })

  it('begins an empty site and opens the other again', async () => {
    const { app } = await show()
    await openDemo(app)
    await page.getByRole('button', { name: 'New empty site' }).click()
    await vi.waitFor(() => expect(app.library.sites).toHaveLength(2))
    expect(app.session.site).toMatchObject({ name: 'New site', record: [] })
    await page.getByRole('button', { name: `Open ${hostile}` }).click()
    await vi.waitFor(() => expect(app.session.site?.id).toBe(fieldSite().id))
  })

  it('opens a file that is dropped on it, once, and says what is wrong with one that is none', async () => {
    const { app, onclose } = await show()
    const onPage = vi.fn<(event: Event) => void>()
    document.body.addEventListener('drop', onPage)
    const adopt = vi.spyOn(app.library, 'adopt')
    const drop = (name: string, text: string) => {
      const dataTransfer = new DataTransfer()
      dataTransfer.items.add(new File([text], name))
      const place = page.getByRole('group', { name: 'Sites on this device' }).element()
      place.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }))
    }
    drop('notes.json', '{')
    await expect.element(page.getByRole('alert')).toHaveTextContent(/^notes.json/)
    expect(adopt).not.toHaveBeenCalled()
    drop('field.json', saveSite(fieldSite()))
    await vi.waitFor(() => expect(app.session.site?.id).toBe(fieldSite().id))
    await vi.waitFor(() => expect(onclose).toHaveBeenCalledOnce())
    expect(adopt).toHaveBeenCalledOnce()
    document.body.removeEventListener('drop', onPage)
    expect(onPage).not.toHaveBeenCalled()
  })

  it('removes a site to the bin after asking, and brings it back', async () => {
    const { app } = await show()
    await openDemo(app)
    await page.getByRole('button', { name: /^To the bin …/ }).click()
    await page.getByRole('button', { name: 'Keep it' }).click()
    expect(app.library.sites).toHaveLength(1)
    await page.getByRole('button', { name: /^To the bin …/ }).click()
    await page.getByRole('button', { name: /^Move it to the bin/ }).click()
    await vi.waitFor(() => expect(app.library.bin).toHaveLength(1))
    expect(app.library.sites).toHaveLength(0)
    expect(app.session.site).toBeNull()
    await page.getByRole('button', { name: /^Bin/ }).click()
    await page.getByRole('button', { name: /^(Bring back|Restore|Take back)/ }).click()
    await vi.waitFor(() => expect(app.library.sites).toHaveLength(1))
  })

  it('tells problems until they are put away, and offers to take a held site over', async () => {
    const { app } = await show()
    await openDemo(app)
    app.library.tell([problem('file.notJson', { reason: 'x', truncated: true }, { file: hostile })])
    await expect
      .element(page.getByRole('alert').getByText(/The file ends before its content does/))
      .toBeVisible()
    await page.getByRole('button', { name: 'Put this away' }).click()
    expect(app.library.problems).toEqual([])
    app.session.saving = 'readOnly'
    const takeOver = vi.spyOn(app.library, 'takeOver').mockResolvedValue()
    await page.getByRole('button', { name: 'Take over' }).click()
    expect(takeOver).toHaveBeenCalledOnce()
  })

  it('has no breach of accessibility', async () => {
    const { app } = await show()
    await openDemo(app)
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
