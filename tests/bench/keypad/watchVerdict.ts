/** What the page noted of one reading, in milliseconds since the page began. */
export interface VerdictTimes {
  /** The event that records the reading, by the time the browser gave it: release of the key on the screen, or Enter. */
  readonly pressedAt: number
  /** The verdict's words stand in the document. */
  readonly writtenAt: number
  /** The frame that shows them has been handed over: the next one begins. */
  readonly shownAt: number
  readonly words: string
}

export interface VerdictWatch {
  /** Waits for the next reading; what stands where a verdict is told, which must be nothing. */
  arm(): string
  /** Null until the verdict is shown. */
  times: VerdictTimes | null
}

declare global {
  interface Window {
    verdictWatch: VerdictWatch
  }
}

/** Runs in the page before anything else. It adds no work of its own to a frame but a glance at one element. */
export function watchVerdict(): void {
  const told = () => document.querySelector('[role=tabpanel] .box .first')?.textContent.trim() ?? ''
  let pressedAt: number | null = null
  let isArmed = false
  const watch: VerdictWatch = {
    times: null,
    arm() {
      pressedAt = null
      isArmed = true
      watch.times = null
      return told()
    },
  }
  window.verdictWatch = watch

  const isRecordKey = (target: EventTarget | null) =>
    target instanceof Element && target.closest('[aria-label="Enter the reading"]') !== null
  const press = (event: Event) => {
    if (isArmed && pressedAt === null) pressedAt = event.timeStamp
  }
  window.addEventListener('pointerup', (event) => isRecordKey(event.target) && press(event), true)
  window.addEventListener('keydown', (event) => event.key === 'Enter' && press(event), true)

  new MutationObserver(() => {
    if (!isArmed || pressedAt === null || told() === '') return
    isArmed = false
    const times = { pressedAt, writtenAt: performance.now(), words: told() }
    requestAnimationFrame(() =>
      requestAnimationFrame(() => {
        watch.times = { ...times, shownAt: performance.now() }
      }),
    )
  }).observe(document, { subtree: true, childList: true, characterData: true })
}
