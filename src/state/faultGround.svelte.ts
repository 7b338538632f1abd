import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type {
  FaultAnswer,
  FaultInput,
  GroundPlace,
  GroundStandAnswer,
  GroundStandInput,
  GroundVoltsAnswer,
  GroundVoltsInput,
} from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Site } from '../model/schema/site.ts'
import { passesThroughSoil } from '../model/throughSoil.ts'
import { firstPerson } from './faultSetup.ts'
import { blurOfStep, doesShow, groundGrid, voltsOnGrid, type SeenPlan } from './groundGrid.ts'
import type { KeptFault } from './keptFault.ts'
import type { GroundMarks } from './mapMarks.ts'

interface Fault {
  readonly site: Site
  readonly input: FaultInput
  readonly answer: FaultAnswer
}

interface Asked<Input, Answer> {
  readonly site: Site
  readonly input: Input
  readonly answer: Answer
}

/** From so many volts on the ground is tinted on the map. */
const leastTintedV = 1

/**
 * The ground while the fault in hand flows: a picture of its volts for what the map shows, the largest step, and a place on it
 * that is asked about. Of questions the newest counts; what was answered stays until the new answer comes.
 */
export class FaultGround {
  readonly #engine: EngineClient
  readonly #fault: () => Fault | null
  #isOn = $state(false)
  /** Whether the ground is shown with a fault that was given, as a lesson has it; null: as the one who looks has chosen. */
  #given = $state<boolean | null>(null)
  #seen = $state.raw<SeenPlan | null>(null)
  #chosen = $state.raw<GroundPlace | null>(null)
  #picture = $state.raw<Asked<GroundVoltsInput, GroundVoltsAnswer> | null>(null)
  #stand = $state.raw<Asked<GroundStandInput, GroundStandAnswer> | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #run = 0
  #standRun = 0

  readonly #pictureInput = $derived.by((): GroundVoltsInput | null => {
    const fault = this.#flowing
    if (!this.isOn || this.#seen === null || fault === null) return null
    const { person: _, ...input } = fault.input
    const before = this.#picture
    const grid = before && doesShow(before.input, this.#seen) ? gridOf(before.input) : groundGrid(this.#seen)
    return { ...input, ...grid, blurM: blurOfStep * grid.stepM }
  })
  readonly #standInput = $derived.by((): GroundStandInput | null => {
    const fault = this.#flowing
    if (fault === null) return null
    const { person, ...input } = fault.input
    const { surface, shoeOhm, isWet, armReachM } = person ?? firstPerson
    return { ...input, surface, shoeOhm, isWet, armReachM, place: this.place }
  })
  readonly #marks = $derived.by((): GroundMarks | null => {
    const { told } = this
    const picture = this.isOn && this.hasVolts ? this.#picture : null
    // a place that was let go is marked no more, even before the answer without it comes
    const there = this.place === null ? null : (told?.answer.stand ?? null)
    if (picture === null && there === null) return null
    return {
      picture: picture && { ...gridOf(picture.input), volt: picture.answer.volt },
      mostStep: told?.answer.mostStep ?? null,
      stand: there && { atM: there.atM, otherM: otherEnd(there.atM, there.step) },
    }
  })

  constructor(engine: EngineClient, fault: () => Fault | null) {
    this.#engine = engine
    this.#fault = fault
  }

  /** The fault of now, while current passes through soil in it. */
  get #flowing(): Fault | null {
    const fault = this.#fault()
    return fault !== null && passesThroughSoil(fault.answer) ? fault : null
  }

  /** False where the fault of now is known to leave the ground alone. */
  get hasVolts(): boolean {
    const fault = this.#fault()
    return fault === null || passesThroughSoil(fault.answer)
  }

  /** What the map shows of the plan, once it rests. */
  look(seen: SeenPlan): void {
    this.#seen = seen
  }

  /** Whether the map shows the volts of the ground. */
  get isOn(): boolean {
    return this.#given ?? this.#isOn
  }

  set isOn(isOn: boolean) {
    this.#isOn = isOn
  }

  /** The ground of a fault that was given, with or without its volts and without a place; null: of the fault in hand again. */
  show(given: boolean | null): void {
    this.#given = given
  }

  get place(): GroundPlace | null {
    return this.#given === null ? this.#chosen : null
  }

  /** Bare ground that is asked about; null: none. */
  stand(place: GroundPlace | null): void {
    this.#chosen = place
  }

  /** What of the ground is kept on the device: what was chosen, whatever is shown meanwhile. */
  get kept(): Pick<KeptFault, 'showsGround' | 'place'> {
    return { showsGround: this.#isOn, place: this.#chosen }
  }

  take({ showsGround, place }: Pick<KeptFault, 'showsGround' | 'place'>): void {
    this.#isOn = showsGround
    this.#chosen = place
  }

  /** What was asked last and its answer, of now or of before the last change. */
  get told(): Asked<GroundStandInput, GroundStandAnswer> | null {
    return this.hasVolts ? this.#stand : null
  }

  get isToldCurrent(): boolean {
    const [told, now] = [this.#stand, this.#standInput]
    return told !== null && now !== null && isSame(told.input, now) && told.site === this.#fault()?.site
  }

  /** The picture is there and shows no step, for there are too few volts anywhere in it. */
  get isFaint(): boolean {
    const volt = this.#marks?.picture?.volt
    return volt !== undefined && volt.every((value) => Math.abs(value) < leastTintedV)
  }

  get marks(): GroundMarks | null {
    return this.#marks
  }

  get progress(): Progress | null {
    return this.#progress
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  /** Volts of the ground at a place of the picture that is shown, as it has them; null where it is not, or shows none. */
  voltAt(atM: PointM): number | null {
    const picture = this.isOn && this.hasVolts ? this.#picture : null
    return picture && voltsOnGrid(picture.input, picture.answer.volt, atM)
  }

  /** Another object whenever there may be something new to ask. */
  get question(): unknown {
    return [this.#pictureInput, this.#standInput, this.#fault()]
  }

  /** Asks what is not known yet; called whenever the question changes. */
  async refresh(): Promise<void> {
    await Promise.all([this.#askStand(), this.#askPicture()])
  }

  async #askPicture(): Promise<void> {
    const input = this.#pictureInput
    const site = this.#fault()?.site
    if (
      input === null ||
      site === undefined ||
      (this.#picture?.site === site && isSame(this.#picture.input, input))
    ) {
      this.#endPicture()
      return
    }
    const run = ++this.#run
    this.#progress = { stage: 'ground', fraction: 0 }
    const outcome = await this.#engine.ask('groundVolts', input, (progress) => {
      if (this.#run === run) this.#progress = progress
    })
    if (this.#run !== run) return
    this.#progress = null
    if (outcome.status === 'done') this.#picture = { site, input, answer: outcome.answer }
    this.#problems = outcome.status === 'problem' ? outcome.problems : []
  }

  #endPicture(): void {
    if (this.#progress === null) return
    this.#run++
    this.#progress = null
    this.#engine.cancel('groundVolts')
  }

  async #askStand(): Promise<void> {
    const input = this.#standInput
    const site = this.#fault()?.site
    if (input === null || site === undefined || this.isToldCurrent) return
    const run = ++this.#standRun
    const outcome = await this.#engine.ask('groundStand', input)
    if (this.#standRun !== run) return
    if (outcome.status === 'done') this.#stand = { site, input, answer: outcome.answer }
    if (outcome.status === 'problem') this.#problems = outcome.problems
  }

  leave(): void {
    this.#endPicture()
    this.#standRun++
    this.#chosen = null
    this.#picture = null
    this.#stand = null
    this.#problems = []
    this.#isOn = false
  }
}

function gridOf({ fromM, stepM, across, high }: GroundVoltsInput) {
  return { fromM, stepM, across, high }
}

function otherEnd(atM: PointM, { fromM, toM }: { readonly fromM: PointM; readonly toM: PointM }): PointM {
  return fromM.x === atM.x && fromM.y === atM.y ? toM : fromM
}

function isSame(a: object, b: object): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b)
}
