import { config } from 'zod'

/*
 * Imported before anything else where a content security policy forbids code made at run time: schemas are then
 * checked without it from the start, instead of trying once and being refused aloud.
 */
config({ jitless: true })
