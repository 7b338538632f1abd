/**
 * Takes the keyboard into a view that covers the page and gives it back when the view goes; what lies beside it can
 * meanwhile be neither reached nor heard.
 */
export function aloneOnPage(view: HTMLElement): () => void {
  const opener = document.activeElement
  const silenced: HTMLElement[] = []
  for (let inner: HTMLElement = view; inner !== document.body && inner.parentElement;) {
    for (const beside of inner.parentElement.children) {
      if (beside === inner || !(beside instanceof HTMLElement) || beside.inert) continue
      beside.inert = true
      silenced.push(beside)
    }
    inner = inner.parentElement
  }
  view.focus({ preventScroll: true })
  return () => {
    for (const beside of silenced) beside.inert = false
    if (opener instanceof HTMLElement && opener.isConnected) opener.focus()
  }
}
