// Rules for the page's TypeScript and for the tests in the browser; how they look is prettier's affair.
export const lineLength = 120; // as everywhere in the project

export const lintRules = (js, tseslint) => [
  js.configs.recommended,
  ...tseslint.configs.recommended,
  ...tseslint.configs.stylistic,
  {
    rules: {
      "@typescript-eslint/no-non-null-assertion": "off", // the page knows its own elements and data
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_" }],
      "@typescript-eslint/no-empty-function": "off", // a listener that nobody set yet
      "@typescript-eslint/prefer-for-of": "off", // an index stands for a cell, a move, a piece
      curly: ["error", "multi-line"],
      eqeqeq: "error",
      "max-len": ["error", { code: lineLength }],
      "max-lines": ["error", { max: 600 }],
      "max-lines-per-function": ["error", { max: 80 }],
      "object-shorthand": "error",
      "one-var": ["error", "never"],
      "prefer-const": "error",
      "prefer-template": "error",
    },
  },
  {
    files: ["**/*.mjs"],
    rules: { "no-undef": "off" }, // what runs in the page stands inside the test's function
  },
];
