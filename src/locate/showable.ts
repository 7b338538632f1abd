/** What a set of instruments can and cannot show anywhere on a network, whatever was read so far. */
export interface Showable {
  /** What it was worked out for: instruments and offset. */
  readonly key: string
  /** Joints that can go bad, and how many of them are expected to be. */
  readonly joints: number
  readonly expectedBad: number
  /** 1 for a joint that can go bad and whose opening no two-point reading shows. */
  readonly isHidden: Uint8Array
  readonly hiddenByKind: readonly { readonly kind: number; readonly joints: number; readonly first: number }[]
}
