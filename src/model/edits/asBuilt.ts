import { addingCounted, changingItem, removingItem } from './listEdits.ts'

export const { can: canAddAsBuilt, edit: addAsBuilt } = addingCounted('asBuilt')
export const { can: canChangeAsBuilt, edit: changeAsBuilt } = changingItem('asBuilt')
export const { can: canRemoveAsBuilt, edit: removeAsBuilt } = removingItem('asBuilt')
