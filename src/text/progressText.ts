const stages = {
  index: 'Counting parts and joints',
  compile: 'Putting the network together',
  prepare: 'Solving the network',
  readings: 'Predicting each reading',
  weigh: 'Weighing every joint',
  explain: 'Weighing the evidence',
  currents: 'Following the current',
} as const

export type StageName = keyof typeof stages

/** What is being worked on, for the words beside a progress line. */
export function describeStage(stage: StageName): string {
  return stages[stage]
}

/** Said while what is on screen belongs to an earlier state of the site. */
export const updating = 'Updating: what you see is from before the last change.'

export const engineTexts = {
  restarting:
    'The computation stopped by itself and is being started again. Nothing that you entered is lost.',
  failed:
    'The computation stopped twice and stays off until the site changes. Your entries are kept as before; ' +
    'save the site as a file, then load the page again.',
} as const
