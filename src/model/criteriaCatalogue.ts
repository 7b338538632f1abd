import type { Criterion } from './schema/planning.ts'

/**
 * How sure a figure is: read in a public copy of the source or in a publication that cites it; read only in a copy of lesser
 * standing; or from memory, not read. A figure that matters is read in the edition that a contract names.
 */
export type Sureness = 'seen' | 'seenSecondary' | 'fromMemory' | 'commonPractice'

/** What a criterion's figures are of: a routine check on site, commissioning, or a sample in a laboratory. */
export type KindOfTest = 'field' | 'commissioning' | 'typeTest' | 'electrode'

/** A row to start a criterion from. Nothing of it is a requirement until a contract or local code says so. */
export interface CatalogueCriterion {
  readonly criterion: Criterion
  readonly kindOfTest: KindOfTest
  /** The ohms within which the test current is asked; null where it is asked throughout, or none is. */
  readonly currentAskedWithinOhm: { readonly from: number; readonly to: number } | null
  readonly sureness: Sureness
  readonly note: string
}

type Row = Pick<Criterion, 'id' | 'name' | 'scope' | 'quantity' | 'source'> &
  Partial<Criterion> &
  Pick<CatalogueCriterion, 'kindOfTest' | 'sureness'> &
  Partial<Pick<CatalogueCriterion, 'currentAskedWithinOhm' | 'note'>>

function row({
  kindOfTest,
  sureness,
  currentAskedWithinOhm = null,
  note = '',
  ...given
}: Row): CatalogueCriterion {
  const criterion: Criterion = {
    investigateAboveOhm: null,
    rejectAboveOhm: null,
    addConductor: false,
    testCurrentA: null,
    edition: '',
    clause: '',
    againstPairs: false,
    ...given,
  }
  return { criterion, kindOfTest, sureness, currentAskedWithinOhm, note }
}

/** Published levels, the same physical check judged from 1 mΩ to 0.5 Ω: which of them holds is for contract and code. */
export const criteriaCatalogue: readonly CatalogueCriterion[] = [
  row({
    id: 'neta-point-to-point',
    name: 'Point to point, grounding system',
    scope: 'anyPair',
    quantity: 'bondingPath',
    kindOfTest: 'commissioning',
    investigateAboveOhm: 0.5,
    source: 'ANSI/NETA ATS and MTS, Grounding Systems: point-to-point test',
    clause: '7.13',
    sureness: 'seenSecondary',
    note: 'Investigate values above 0.5 ohm; the four-wire method is advised.',
  }),
  row({
    id: 'iec-62446-1-continuity',
    name: 'PV array frame bonding, category 1',
    scope: 'pathToEarthBar',
    quantity: 'bondingPath',
    kindOfTest: 'commissioning',
    source: 'IEC 62446-1: continuity of protective earthing and of array-frame bonding conductors',
    edition: '2016 with amendment 1, 2018',
    sureness: 'fromMemory',
    note: 'No numeric limit: continuity is shown, and compared with what length and size come to.',
  }),
  row({
    id: 'iec-60364-6-continuity',
    name: 'Continuity of protective conductors',
    scope: 'pathToEarthBar',
    quantity: 'bondingPath',
    kindOfTest: 'commissioning',
    source: 'IEC 60364-6: continuity of protective and bonding conductors',
    edition: '2016',
    clause: '6.4.3.2',
    sureness: 'fromMemory',
    note: 'No numeric limit: compare with the length of the conductor.',
  }),
  row({
    id: 'iec-61557-4-instrument',
    name: 'Continuity instrument, 0.2 A',
    scope: 'anyPair',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    testCurrentA: 0.2,
    currentAskedWithinOhm: { from: 0.2, to: 2 },
    source: 'IEC 61557-4: equipment for resistance of earth connection and equipotential bonding',
    edition: '2007; edition 3, 2019',
    sureness: 'fromMemory',
    note: 'No numeric limit of the bond: it asks for at least 0.2 A from 0.2 to 2 ohm, from 4 to 24 V open-circuit.',
  }),
  row({
    id: 'continuity-200ma',
    name: 'Bond with at least 200 mA',
    scope: 'anyPair',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    investigateAboveOhm: 0.5,
    testCurrentA: 0.2,
    source: 'Common practice: 0.5 ohm as the most accepted, 200 mA as the least test current.',
    sureness: 'commonPractice',
    note: 'Use it where a contract gives nothing.',
  }),
  row({
    id: 'mil-419a-bond',
    name: 'Each bond, four-terminal bridge',
    scope: 'neighbours',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    investigateAboveOhm: 0.001,
    source: 'MIL-HDBK-419A Volume II: every bond',
    edition: '1987',
    clause: '1.13',
    sureness: 'seen',
    note: 'A single bond: a path through several joints reads more.',
  }),
  row({
    id: 'mil-419a-plane',
    name: 'Equipotential plane to earth electrode subsystem',
    scope: 'pathToEarthBar',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    investigateAboveOhm: 0.005,
    source: 'MIL-HDBK-419A Volume II: selected points',
    edition: '1987',
    clause: '1.13',
    sureness: 'seen',
  }),
  row({
    id: 'faa-jumper',
    name: 'Bonding jumper connection',
    scope: 'neighbours',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    investigateAboveOhm: 0.003,
    source: 'FAA AC 43.13-1B: each jumper connection',
    edition: '1B',
    clause: '11-189',
    sureness: 'seen',
    note: 'Written for aircraft; exposed frame to structure 2.5 milliohm.',
  }),
  row({
    id: 'space-interface',
    name: 'Continuity across an interface',
    scope: 'neighbours',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    investigateAboveOhm: 1,
    source: 'Practice for spacecraft based on MIL-STD-889: continuity achieved',
    sureness: 'seen',
  }),
  row({
    id: 'tia-607-two-point',
    name: 'Two-point test of a bonding network',
    scope: 'anyPair',
    quantity: 'bondingPath',
    kindOfTest: 'commissioning',
    investigateAboveOhm: 0.1,
    source: 'ANSI/TIA-607: two-point DC test',
    sureness: 'fromMemory',
    note: 'Editions differ: check the one that a contract names.',
  }),
  row({
    id: 'iec-60204-1-continuity',
    name: 'Machine protective circuit, 0.2 A to 10 A',
    scope: 'pathToEarthBar',
    quantity: 'bondingPath',
    kindOfTest: 'field',
    testCurrentA: 0.2,
    source: 'IEC 60204-1: verification of protective conductors, test 1',
    edition: '2016',
    clause: '18.2.2',
    sureness: 'fromMemory',
    note: 'No numeric limit: within what length, area and material come to.',
  }),
  row({
    id: 'iec-61730-2-mst13',
    name: 'Module frame bonding, MST 13',
    scope: 'sameTable',
    quantity: 'typeTest',
    kindOfTest: 'typeTest',
    investigateAboveOhm: 0.1,
    testCurrentA: 25,
    source: 'IEC 61730-2: equipotential bonding test, most remote points of one module frame',
    edition: '2016',
    clause: 'MST 13',
    sureness: 'seen',
    note: 'Of a sample in a laboratory. The current is 2.5 times the rating of the overcurrent protection (from memory); 25 A is that of one seen sample.',
  }),
  row({
    id: 'ul-2703-bonding-path',
    name: 'Rack bonding path',
    scope: 'sameTable',
    quantity: 'typeTest',
    kindOfTest: 'typeTest',
    investigateAboveOhm: 0.1,
    source: 'UL 2703: bonding path resistance, at twice the series fuse rating',
    sureness: 'fromMemory',
    note: 'Of a sample in a laboratory; check the edition.',
  }),
  row({
    id: 'iec-61439-1-assembly',
    name: 'Exposed part of an assembly to its PE terminal',
    scope: 'sameTable',
    quantity: 'typeTest',
    kindOfTest: 'typeTest',
    investigateAboveOhm: 0.1,
    testCurrentA: 10,
    source: 'IEC 61439-1: effective earth continuity, at 10 A AC or DC at least',
    clause: '10.5.2',
    sureness: 'seen',
  }),
  row({
    id: 'iec-60950-1-bonding',
    name: 'Protective bonding of equipment',
    scope: 'sameTable',
    quantity: 'typeTest',
    kindOfTest: 'typeTest',
    investigateAboveOhm: 0.1,
    source: 'IEC 60950-1: protective bonding conductors, circuits up to 16 A',
    clause: '2.6.3.4',
    sureness: 'seen',
    note: 'Test current and time differ between editions.',
  }),
  row({
    id: 'nec-single-rod',
    name: 'Single rod, pipe or plate electrode',
    scope: 'pathToEarthBar',
    quantity: 'electrodeToEarth',
    kindOfTest: 'electrode',
    investigateAboveOhm: 25,
    source: 'NFPA 70: a single rod, pipe or plate electrode is supplemented above 25 ohm',
    clause: '250.53(A)(2) exception',
    sureness: 'seen',
    note: 'Electrode to earth by fall of potential. Once supplemented, no further resistance is asked.',
  }),
  row({
    id: 'neta-electrode-industrial',
    name: 'Main electrode, large commercial or industrial',
    scope: 'pathToEarthBar',
    quantity: 'electrodeToEarth',
    kindOfTest: 'electrode',
    investigateAboveOhm: 5,
    source: 'ANSI/NETA ATS and MTS, Grounding Systems: fall of potential',
    clause: '7.13',
    sureness: 'fromMemory',
  }),
  row({
    id: 'neta-electrode-station',
    name: 'Main electrode, generating or transmission station',
    scope: 'pathToEarthBar',
    quantity: 'electrodeToEarth',
    kindOfTest: 'electrode',
    investigateAboveOhm: 1,
    source: 'ANSI/NETA ATS and MTS, Grounding Systems: fall of potential',
    clause: '7.13',
    sureness: 'fromMemory',
  }),
  row({
    id: 'mil-188-124-electrode',
    name: 'Earth electrode subsystem, design goal',
    scope: 'pathToEarthBar',
    quantity: 'electrodeToEarth',
    kindOfTest: 'electrode',
    investigateAboveOhm: 10,
    source: 'MIL-STD-188-124A: design goal',
    edition: 'A',
    sureness: 'seen',
  }),
]

/** The row that a criterion was made from: same source, edition and current; null where it is one's own. */
export function catalogueRowOf(criterion: Criterion): CatalogueCriterion | null {
  return (
    criteriaCatalogue.find(
      ({ criterion: { source, edition, testCurrentA } }) =>
        criterion.source === source &&
        criterion.edition === edition &&
        criterion.testCurrentA === testCurrentA,
    ) ?? null
  )
}
