import { describe, expect, it } from 'vitest'
import { registerOffline } from '../../src/app/registerOffline.ts'

/** A service worker as far as the page sees it. */
class FakeWorker extends EventTarget {
  state = 'installing'
  readonly said: unknown[] = []
  postMessage(message: unknown) {
    this.said.push(message)
  }
  become(state: string) {
    this.state = state
    this.dispatchEvent(new Event('statechange'))
  }
}

class FakeRegistration extends EventTarget {
  installing: FakeWorker | null = null
  waiting: FakeWorker | null = null
  find(worker: FakeWorker) {
    this.installing = worker
    this.dispatchEvent(new Event('updatefound'))
  }
}

class FakeContainer extends EventTarget {
  controller: FakeWorker | null = null
  readonly registration = new FakeRegistration()
  readonly ready = Promise.resolve()
  register = () => Promise.resolve(this.registration)
}

function page(prepare: (container: FakeContainer) => void = () => undefined) {
  const container = new FakeContainer()
  prepare(container)
  const log: string[] = []
  let apply: (() => void) | null = null
  const offline = registerOffline({
    container: container as unknown as ServiceWorkerContainer,
    reload: () => log.push('reload'),
  })
  offline.onUpdate((given) => {
    log.push('told')
    apply = given
  })
  const takesOver = () => container.dispatchEvent(new Event('controllerchange'))
  return { container, offline, log, takesOver, agree: () => apply?.() }
}

describe('the page and its service worker', () => {
  it('is ready without a word when the first version of all takes over', async () => {
    const { container, offline, log, takesOver } = page()
    expect(await offline.isReady).toBe(true)
    const first = new FakeWorker()
    container.registration.find(first)
    first.become('installed')
    first.become('activated')
    takesOver()
    expect(log).toEqual([])
    expect(first.said).toEqual([])
  })

  it('tells of a new version, and loads again only after the user agreed and it took over', async () => {
    const { container, offline, log, takesOver, agree } = page((made) => (made.controller = new FakeWorker()))
    await offline.isReady
    const next = new FakeWorker()
    container.registration.find(next)
    expect(log).toEqual([])
    next.become('installed')
    expect(log).toEqual(['told'])
    expect(next.said).toEqual([])
    agree()
    expect(next.said).toEqual(['takeOver'])
    expect(log).toEqual(['told'])
    takesOver()
    expect(log).toEqual(['told', 'reload'])
  })

  it('is left alone when another tab agreed', async () => {
    const { container, offline, log, takesOver } = page((made) => (made.controller = new FakeWorker()))
    await offline.isReady
    const next = new FakeWorker()
    container.registration.find(next)
    next.become('installed')
    takesOver()
    expect(log).toEqual(['told'])
  })

  it('tells of a version that has been waiting since before, also to who asks late', async () => {
    const waiting = new FakeWorker()
    const { offline, log } = page((made) => {
      made.controller = new FakeWorker()
      made.registration.waiting = waiting
    })
    await offline.isReady
    expect(log).toEqual(['told'])
    const late: string[] = []
    offline.onUpdate((apply) => {
      late.push('told')
      apply()
    })
    expect(late).toEqual(['told'])
    expect(waiting.said).toEqual(['takeOver'])
  })

  it('is not ready, and no error, where there are no service workers or they are refused', async () => {
    const reload = () => undefined
    expect(await registerOffline({ container: undefined, reload }).isReady).toBe(false)
    const refusing = new FakeContainer()
    refusing.register = () => Promise.reject(new DOMException('', 'SecurityError'))
    const container = refusing as unknown as ServiceWorkerContainer
    expect(await registerOffline({ container, reload }).isReady).toBe(false)
  })
})
