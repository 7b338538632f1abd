import type { FaultPort } from '../model/faultAnswers.ts'
import type { PvCurve } from './pvCurve.ts'

/**
 * A circuit that is joined to the bond network at a few parts: nodes of its own, runs of modules between them, and links
 * into the network. Nothing here knows of the network but the numbers of its ports.
 */
export interface Circuit {
  readonly nodeCount: number
  readonly module: PvCurve | null
  readonly segments: readonly Segment[]
  readonly links: readonly Link[]
  /** Part of each port; no two are the same. */
  readonly portParts: readonly number[]
  /** Link through which the fault's current enters the network. */
  readonly faultLink: number
  /** Volts of the fault point before it touches anything, and against which nodes' weighted volts they are meant. */
  readonly openV: number
  readonly faultNode: number
  readonly against: readonly Weighted[]
  /** The port that other volts are told against where no soil joins the source to remote earth; -1: the first. */
  readonly referencePort: number
  /** Part of the network that the source is referenced to, whether or not anything leads there. */
  readonly earthedPart: number
}

/** Modules in series between two nodes, as many strings in parallel: current out at `to`, in at `from`. */
export interface Segment {
  readonly from: number
  readonly to: number
  readonly modules: number
  readonly strings: number
  /** Whether these modules are those of the faulted string. */
  readonly isFaulted: boolean
}

/** A number of a node or port with the share that it has in a link. */
export interface Weighted {
  readonly at: number
  readonly weight: number
}

/**
 * A way from nodes of the circuit into ports of the network:
 *
 *   emf + Σ weight · V_node − Σ weight · V_port = ohm · I,   I > 0 into the network
 *
 * It takes weight · I from each of its nodes and gives weight · I to each of its ports.
 */
export interface Link {
  readonly role: FaultPort['role']
  readonly nodes: readonly Weighted[]
  readonly ports: readonly Weighted[]
  readonly ohm: number
  readonly emfV: number
}
