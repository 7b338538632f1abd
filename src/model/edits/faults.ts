import { problem } from '../problem.ts'
import { addingNamed, changingItem, removingItem } from './listEdits.ts'

export const { can: canAddSource, edit: addSource } = addingNamed('sources')
export const { can: canChangeSource, edit: changeSource } = changingItem('sources')

/** Removes a source that no device protects. */
export const { can: canRemoveSource, edit: removeSource } = removingItem('sources', (site, id) => {
  const users = site.drawing.devices.filter(({ protects }) => protects === id).length
  return users === 0 ? null : problem('edit.inUse', { what: 'source', id, users })
})

export const { can: canAddDevice, edit: addDevice } = addingNamed('devices')
export const { can: canChangeDevice, edit: changeDevice } = changingItem('devices')
export const { can: canRemoveDevice, edit: removeDevice } = removingItem('devices')

export const { can: canAddLesson, edit: addLesson } = addingNamed('lessons')
export const { can: canChangeLesson, edit: changeLesson } = changingItem('lessons')
export const { can: canRemoveLesson, edit: removeLesson } = removingItem('lessons')
