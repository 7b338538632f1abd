import { addingCounted, changingItem, removingItem } from './listEdits.ts'

/*
 * Enclosures, earth bars, electrodes. Removing one lets conductors
 * and extra joints go that were fastened to it.
 */
export const { can: canAddEnclosure, edit: addEnclosure } = addingCounted('enclosures')
export const { can: canChangeEnclosure, edit: changeEnclosure } = changingItem('enclosures')
export const { can: canRemoveEnclosure, edit: removeEnclosure } = removingItem('enclosures')

export const { can: canAddEarthBar, edit: addEarthBar } = addingCounted('earthBars')
export const { can: canChangeEarthBar, edit: changeEarthBar } = changingItem('earthBars')
export const { can: canRemoveEarthBar, edit: removeEarthBar } = removingItem('earthBars')

export const { can: canAddElectrode, edit: addElectrode } = addingCounted('electrodes')
export const { can: canChangeElectrode, edit: changeElectrode } = changingItem('electrodes')
export const { can: canRemoveElectrode, edit: removeElectrode } = removingItem('electrodes')
