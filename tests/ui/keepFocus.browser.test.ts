import { afterEach, beforeEach, expect, it } from 'vitest'
import { keepFocus } from '../../src/ui/keepFocus.ts'

const container = document.createElement('div')
container.tabIndex = 0
let stop: (() => void) | void

beforeEach(() => {
  container.innerHTML = '<button>a</button><button>b</button><button>c</button>'
  document.body.append(container)
  stop = keepFocus(container)
})
afterEach(() => {
  stop?.()
  container.remove()
})

const button = (name: string) =>
  [...container.querySelectorAll('button')].find((one) => one.textContent === name)!
/** Observers are told after what changed the page has ended. */
const told = () => new Promise((resolve) => setTimeout(resolve))

it('moves on to what took the place of what went away', async () => {
  button('b').focus()
  button('b').remove()
  await told()
  expect(document.activeElement).toBe(button('c'))
  button('c').remove()
  await told()
  expect(document.activeElement).toBe(button('a'))
  button('a').remove()
  await told()
  expect(document.activeElement).toBe(container)
})

it('takes the focus from nothing that has it', async () => {
  const outside = document.createElement('button')
  document.body.append(outside)
  button('b').focus()
  outside.focus()
  button('b').remove()
  await told()
  expect(document.activeElement).toBe(outside)
  outside.blur()
  button('a').remove()
  await told()
  expect(document.activeElement).toBe(document.body)
  outside.remove()
})

it('comes back to its place after a dialog within it, though what opened the dialog has gone', async () => {
  const dialog = document.createElement('dialog')
  dialog.innerHTML = '<button>yes</button>'
  container.append(dialog)
  button('b').focus()
  dialog.showModal()
  dialog.querySelector('button')!.focus()
  button('b').remove()
  dialog.close()
  dialog.remove()
  await told()
  expect(document.activeElement).toBe(button('c'))
})
