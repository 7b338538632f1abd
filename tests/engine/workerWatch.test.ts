import { expect, it } from 'vitest'
import { holdLifeLock, watchLifeLock } from '../../src/engine/workerWatch.ts'
import { FakeLocks } from './fakeLocks.ts'

it('a worker tells the name of its lock only once it has it', async () => {
  const locks = new FakeLocks()
  const release = locks.hold('mine')
  const told: (string | null)[] = []
  holdLifeLock(
    locks,
    () => 'mine',
    (name) => told.push(name),
  )
  await locks.settle()
  expect(told).toEqual([])
  release()
  await locks.settle()
  expect(told).toEqual(['mine'])
})

it('a worker is ready without a lock where there are none or they may not be used', async () => {
  const told: (string | null)[] = []
  const tell = (name: string | null) => told.push(name)
  holdLifeLock(null, () => 'mine', tell)
  const refusing = { request: () => Promise.reject(new DOMException('no origin', 'SecurityError')) }
  holdLifeLock(refusing, () => 'mine', tell)
  const noNames = () => {
    throw new TypeError('no random names')
  }
  holdLifeLock(new FakeLocks(), noNames, tell)
  await new FakeLocks().settle()
  expect(told).toEqual([null, null, null])
})

it('a watch that was ended says nothing when the lock comes free', async () => {
  const locks = new FakeLocks()
  const release = locks.hold('mine')
  let deaths = 0
  const end = watchLifeLock(locks, 'mine', () => deaths++)
  watchLifeLock(locks, 'mine', () => (deaths += 10))
  end()
  release()
  await locks.settle()
  expect(deaths).toBe(10)
})
