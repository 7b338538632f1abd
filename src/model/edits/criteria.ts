import { addingNamed, changingItem, removingItem } from './listEdits.ts'

export const { can: canAddCriterion, edit: addCriterion } = addingNamed('criteria')
export const { can: canChangeCriterion, edit: changeCriterion } = changingItem('criteria')
export const { can: canRemoveCriterion, edit: removeCriterion } = removingItem('criteria')
