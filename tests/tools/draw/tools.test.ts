import { describe, expect, it } from 'vitest'
import { drawToolNames } from '../../../src/tools/draw/drawTool.ts'
import { helpOf, toolOf } from '../../../src/tools/draw/tools.ts'
import { plainMaking } from './hand.ts'

describe('the drawing tools', () => {
  it('are there by name, the same each time, so that a state is known to be idle', () => {
    const tools = drawToolNames.map(toolOf)
    expect(new Set(tools).size).toBe(drawToolNames.length)
    expect(drawToolNames.map(toolOf)).toEqual(tools)
    drawToolNames.forEach((name) => expect(toolOf(name).idle).toBe(toolOf(name).idle))
  })

  it('say what the hand can do with them, nothing twice', () => {
    for (const name of drawToolNames) {
      const help = helpOf(name, plainMaking)
      expect(help.length).toBeGreaterThan(1)
      expect(new Set(help).size).toBe(help.length)
    }
  })

  it('say it for what is drawn with them now', () => {
    expect(helpOf('electrode', plainMaking)).toEqual(['placeByTap', 'freeWithAlt'])
    const ring = helpOf('electrode', { ...plainMaking, electrode: 'ring' })
    expect(ring).toContain('closeAtFirstPoint')
    expect(helpOf('electrode', { ...plainMaking, electrode: 'strip' })).not.toContain('closeAtFirstPoint')
    expect(helpOf('equipment', plainMaking)).toContain('sizeByDrag')
    expect(helpOf('equipment', { ...plainMaking, equipment: 'earthBar' })).not.toContain('sizeByDrag')
  })
})
