import js from '@eslint/js';
import hooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

/** Folder of each stage, by the name it is imported under. */
const folders = {
  grammar: 'grammar',
  catalogue: 'src/catalogue',
  capture: 'src/capture',
  record: 'src/record',
  reconcile: 'src/reconcile',
  store: 'src/store',
  speak: 'src/speak',
  report: 'src/report',
  school: 'src/school',
  sync: 'src/sync',
};
const home =
  'Stages do not import each other. Put what two of them need into shared/ when it is a contract, or join them in src/wire/, src/main.tsx or src/cli/.';

/** What one stage may not reach: every other stage, the screens and the wires. */
function walls(stage, folder) {
  const others = [...Object.keys(folders), 'screens', 'seeds', 'wire'].filter((n) => n !== stage);
  return {
    files: [`${folder}/**/*.{ts,tsx}`],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [
            { regex: `^#(${others.join('|')})$`, message: home },
            { regex: `^\\.\\./.*\\b(${others.join('|')}|cli|serve)/`, message: home },
            ...(stage === 'store' ? [] : [only('idb', 'src/store/')]),
          ],
        },
      ],
    },
  };
}

function only(name, where) {
  return { regex: `^${name}(/|$)`, message: `Only ${where} imports ${name}.` };
}

export default tseslint.config(
  { ignores: ['dist', 'node_modules', '.cache'] },
  js.configs.recommended,
  ...tseslint.configs.strict,
  { plugins: { 'react-hooks': hooks }, rules: hooks.configs.recommended.rules },
  {
    rules: {
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/ban-ts-comment': 'error',
      'no-console': 'error',
      eqeqeq: 'error',
    },
  },
  ...Object.entries(folders).map(([stage, folder]) => walls(stage, folder)),
  {
    files: ['shared/**/*.ts'],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [{ regex: '^(?!\\./|zod$)', message: 'Contracts import zod and each other.' }],
        },
      ],
    },
  },
  {
    files: ['src/screens/**/*.{ts,tsx}'],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [
            only('idb', 'src/store/'),
            { regex: '^#wire$', message: 'Screens get what they need from src/main.tsx.' },
            {
              regex: `^\\.\\./.*\\b(${Object.keys(folders).join('|')}|cli|serve)/`,
              message: 'Screens import the other stages by their index only (#name).',
            },
          ],
        },
      ],
    },
  },
  {
    files: ['src/cli/**', 'src/serve/**', 'tests/**'],
    rules: { 'no-console': 'off' },
  },
  {
    files: ['**/*.{mjs,js}'],
    languageOptions: {
      globals: {
        process: 'readonly',
        console: 'readonly',
        URL: 'readonly',
        setTimeout: 'readonly',
        clearTimeout: 'readonly',
        Buffer: 'readonly',
        fetch: 'readonly',
      },
    },
  },
);
