import { addingCounted, changingItem, removingItem } from './listEdits.ts'

export const { can: canAddExtraJoint, edit: addExtraJoint } = addingCounted('extraJoints')
export const { can: canChangeExtraJoint, edit: changeExtraJoint } = changingItem('extraJoints')
export const { can: canRemoveExtraJoint, edit: removeExtraJoint } = removingItem('extraJoints')
