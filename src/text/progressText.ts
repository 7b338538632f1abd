const stages = {
  index: 'Counting parts and joints',
  compile: 'Putting the network together',
  prepare: 'Solving the network',
  readings: 'Predicting each reading',
  weigh: 'Weighing every joint',
  explain: 'Weighing the evidence',
  currents: 'Following the current',
  coverage: 'Looking what each pair would show',
  candidates: 'Looking for pairs to choose from',
  choose: 'Choosing pairs',
  walk: 'Laying out the walk',
  alter: 'Solving the network with joints altered',
  losses: 'Losing every joint in turn',
  ground: 'Laying the volts over the ground',
} as const

export type StageName = keyof typeof stages

/** What is being worked on, for the words beside a progress line. */
export function describeStage(stage: StageName): string {
  return stages[stage]
}

/** Said while what is on screen belongs to an earlier state of the site. */
export const updating = 'Updating: what you see is from before the last change.'

/** Said once the user has stopped the work; whether an older answer is on screen decides what it is about. */
export function describeStopped(hasOlder: boolean): string {
  return hasOlder
    ? 'Stopped: what you see is from before the last change.'
    : 'Stopped: nothing has been calculated for this site yet.'
}

/** Names of the buttons beside the progress line: what is read, and what is spoken after it. */
export const progressButtons = {
  stop: { read: 'Stop', spoken: 'calculating' },
  goOn: { read: 'Go on', spoken: 'calculating' },
} as const

export const engineTexts = {
  restarting:
    'The computation stopped, or did not start, and is being started again. Nothing that you entered is lost.',
  failed:
    'The computation stopped twice, or did not start, and stays off until the site changes. ' +
    'Your entries are kept as before; save the site as a file, then load the page again.',
} as const
