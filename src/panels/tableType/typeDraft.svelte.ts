import { sharedStations, withSharedSplices, withSharedStations } from '../../model/changeType.ts'
import { toggleStation } from '../../model/stationList.ts'
import { sameContent } from '../../model/sameContent.ts'
import type { TableType } from '../../model/schema/tableType.ts'
import { suggestTypeName } from '../../text/tableTypeText.ts'
import type { LengthUnit } from '../../text/lengthUnits.ts'
import type { Meaning } from './pictureMeaning.ts'

/** Which stations a tap in the picture sets. */
export type Tapped =
  | { readonly of: 'structure' | 'cross' | 'posts' }
  /** Of one long member, or of all rails. */
  | { readonly of: 'splices'; readonly member: number | null }

/** A table type that is being edited: nothing of it is in the site until it is kept. */
export class TypeDraft {
  #type = $state.raw<TableType>() as TableType
  readonly first: TableType
  unit = $state.raw<LengthUnit>('m')
  /** What stands out in the picture: what is pointed at in its legend, else the field in hand, else under the pointer. */
  pointed = $state.raw<Meaning | null>(null)
  focused = $state.raw<Meaning | null>(null)
  hovered = $state.raw<Meaning | null>(null)
  tapped = $state.raw<Tapped | null>(null)

  constructor(type: TableType, unit: LengthUnit) {
    this.first = type
    this.#type = type
    this.unit = unit
  }

  get type(): TableType {
    return this.#type
  }

  get meaning(): Meaning | null {
    return this.pointed ?? this.focused ?? this.hovered
  }

  get isChanged(): boolean {
    return !sameContent(this.first, this.#type)
  }

  /** Takes over a change; a name that was suggested goes on being the suggestion. */
  put(next: TableType): void {
    const isSuggested = this.#type.name === suggestTypeName(this.#type) && next.name === this.#type.name
    this.#type = isSuggested ? { ...next, name: suggestTypeName(next) } : next
  }

  change(changes: Partial<TableType>): void {
    this.put({ ...this.#type, ...changes })
  }

  changeMember(member: number, changes: Partial<TableType['longMembers'][number]>): void {
    const { longMembers } = this.#type
    this.change({ longMembers: longMembers.with(member - 1, { ...longMembers[member - 1], ...changes }) })
  }

  isTapping(tapped: Tapped): boolean {
    return sameContent(this.tapped, tapped)
  }

  /** Stations that are set in what a tap sets now. */
  get tappedStations(): readonly number[] {
    const { crossMembers, posts, longMembers } = this.#type
    switch (this.tapped?.of) {
      case undefined:
        return []
      case 'structure':
        return sharedStations(this.#type) ?? posts?.stations ?? []
      case 'cross':
        return crossMembers?.stations ?? []
      case 'posts':
        return posts?.stations ?? []
      case 'splices':
        return longMembers[(this.tapped.member ?? longMembers.length) - 1]?.spliceAfter ?? []
    }
  }

  /** Sets a station or clears it; the last one of cross members or posts stays. */
  tap(station: number): void {
    if (this.tapped === null) return
    const stations = toggleStation(this.tappedStations, station)
    const { crossMembers, posts } = this.#type
    if (this.tapped.of === 'splices') {
      const { member } = this.tapped
      if (station > this.#type.modules.across) return
      if (member === null) this.put(withSharedSplices(this.#type, stations))
      else this.changeMember(member, { spliceAfter: stations })
      return
    }
    if (stations.length === 0) return
    if (this.tapped.of === 'structure') this.put(withSharedStations(this.#type, stations))
    else if (this.tapped.of === 'cross' && crossMembers)
      this.change({ crossMembers: { ...crossMembers, stations } })
    else if (this.tapped.of === 'posts' && posts) this.change({ posts: { ...posts, stations } })
  }
}
