import js from '@eslint/js';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist', 'node_modules', 'coverage'] },
  js.configs.recommended,
  ...tseslint.configs.strict,
  {
    rules: {
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/consistent-type-imports': 'error',
      'max-lines': ['error', { max: 400, skipBlankLines: true, skipComments: true }],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Use base/random.ts with a seed.' },
      ],
    },
  },
  {
    files: ['src/**/*.ts'],
    ignores: ['src/cli/**'],
    rules: {
      'no-console': 'error',
      'no-restricted-globals': ['error', 'Date', 'process', 'performance', 'setTimeout'],
    },
  },
  { files: ['**/*.js'], languageOptions: { globals: { process: 'readonly', console: 'readonly' } } },
);
