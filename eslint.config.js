import eslint from '@eslint/js'
import { defineConfig } from 'eslint/config'
import svelte from 'eslint-plugin-svelte'
import globals from 'globals'
import ts from 'typescript-eslint'
import svelteConfig from './svelte.config.js'

// The folders that are plain computation: time and randomness arrive as arguments, nothing touches a screen.
const pureFolders = [
  'base',
  'model',
  'layout',
  'network',
  'reading',
  'walk',
  'compare',
  'locate',
  'plan',
  'faultcurrent',
  'text',
  'tools',
  'files',
]
const pureFiles = pureFolders.map((folder) => `src/${folder}/**/*.ts`)

const asArgument = 'Time and randomness arrive as arguments here.'

export default defineConfig(
  { ignores: ['dist/', 'dist-headless/', 'coverage/', 'node_modules/', 'tests/fixtures/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  eslint.configs.recommended,
  ts.configs.recommendedTypeChecked,
  svelte.configs.recommended,
  svelte.configs.prettier,
  {
    languageOptions: {
      globals: { ...globals.browser, ...globals.node },
      parserOptions: {
        projectService: true,
        tsconfigRootDir: import.meta.dirname,
        extraFileExtensions: ['.svelte'],
      },
    },
    rules: {
      'no-undef': 'off',
      // Tables of constants keep the digits of their source.
      'no-loss-of-precision': 'off',
      'no-console': 'error',
      eqeqeq: 'error',
      'prefer-const': ['error', { destructuring: 'all' }],
      'no-constant-condition': ['error', { checkLoops: false }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true, requireDefaultForNonUnion: false },
      ],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': [
        'error',
        { allowNumber: true, allowBoolean: true },
      ],
      // An index that the loop has just checked needs no second proof.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/unbound-method': 'off',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
  },
  {
    files: pureFiles,
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: asArgument },
        { object: 'Math', property: 'random', message: asArgument },
      ],
      'no-restricted-globals': [
        'error',
        ...['performance', 'crypto', 'setTimeout', 'setInterval', 'process'].map((name) => ({
          name,
          message: asArgument,
        })),
        ...['window', 'document', 'navigator', 'localStorage', 'globalThis', 'self', 'fetch'].map((name) => ({
          name,
          message: 'This folder knows nothing of a page.',
        })),
      ],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: asArgument },
        { selector: "CallExpression[callee.name='Date']", message: asArgument },
        { selector: 'ExportDefaultDeclaration', message: 'Export by name.' },
      ],
    },
  },
  {
    files: ['src/headless/**', 'tests/**', '.ci/**'],
    rules: { 'no-console': 'off' },
  },
  {
    files: ['tests/**'],
    rules: {
      // A generator under test may have nothing to yield, a fake need not await.
      'require-yield': 'off',
      '@typescript-eslint/require-await': 'off',
    },
  },
  {
    files: ['**/*.js', '**/*.mjs', '**/*.mts'],
    extends: [ts.configs.disableTypeChecked],
    rules: { '@typescript-eslint/switch-exhaustiveness-check': 'off' },
  },
)
