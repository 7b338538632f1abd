/** A number in Svelte's keeping, and how often an effect that reads it has run. */
export function countEffects() {
  let value = $state(0)
  let runs = 0
  const stop = $effect.root(() => {
    $effect(() => {
      void value
      runs += 1
    })
  })
  return {
    set(next: number) {
      value = next
    },
    runs: () => runs,
    stop,
  }
}
