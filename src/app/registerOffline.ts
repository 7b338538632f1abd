/** The page's side of working without a network. */
export interface Offline {
  /** True once the page is kept on this device and opens without a network; false where it cannot be. */
  readonly isReady: Promise<boolean>
  /**
   * Tells that a newer version is there and waits. `apply` lets it take over and loads the page again, so
   * the caller has to have saved everything; not calling it leaves the page as it is.
   */
  onUpdate(tell: (apply: () => void) => void): void
}

export interface OfflineEnvironment {
  /** Undefined where the browser has no service workers for this page. */
  readonly container: ServiceWorkerContainer | undefined
  readonly reload: () => void
}

function browserOffline(): OfflineEnvironment {
  const { serviceWorker } = navigator as Partial<Pick<Navigator, 'serviceWorker'>>
  return { container: serviceWorker, reload: () => location.reload() }
}

/** Registers the service worker that the build writes beside the page. */
export function registerOffline({ container, reload }: OfflineEnvironment = browserOffline()): Offline {
  let waiting: ServiceWorker | null = null
  let tellUpdate: ((apply: () => void) => void) | null = null
  let isAgreed = false

  const apply = () => {
    isAgreed = true
    waiting?.postMessage('takeOver')
  }
  const offer = (worker: ServiceWorker | null) => {
    if (!worker) return
    waiting = worker
    tellUpdate?.(apply)
  }
  const watch = (worker: ServiceWorker | null) =>
    worker?.addEventListener('statechange', () => {
      // The first version of all has nothing to replace and waits for nobody.
      if (worker.state === 'installed' && container?.controller) offer(worker)
    })

  const register = async (container: ServiceWorkerContainer): Promise<boolean> => {
    const registration = await container.register('./sw.js', { updateViaCache: 'none' })
    container.addEventListener('controllerchange', () => {
      if (isAgreed) reload()
    })
    if (container.controller) offer(registration.waiting)
    watch(registration.installing)
    registration.addEventListener('updatefound', () => watch(registration.installing))
    await container.ready
    return true
  }

  return {
    isReady: container ? register(container).catch(() => false) : Promise.resolve(false),
    onUpdate(tell) {
      tellUpdate = tell
      if (waiting) tell(apply)
    },
  }
}
