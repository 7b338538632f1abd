/** Ports of a circuit as they come up: each part once. */
export interface PortList {
  readonly parts: number[]
  readonly portOf: (part: number) => number
}

export function portList(): PortList {
  const parts: number[] = []
  const portOf = (part: number) => {
    const known = parts.indexOf(part)
    return known >= 0 ? known : parts.push(part) - 1
  }
  return { parts, portOf }
}
