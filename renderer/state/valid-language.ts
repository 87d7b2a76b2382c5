/**
 * Imported for its effect, before anything that formats numbers as it loads: on a machine without a language setting
 * Chromium calls it en-US@posix, which Intl refuses with an exception, and the page would stay empty.
 */
function isValid(language: string): boolean {
  try {
    return Intl.getCanonicalLocales(language).length > 0;
  } catch {
    return false;
  }
}

if (!isValid(navigator.language)) {
  const language = 'en-US';
  Object.defineProperties(navigator, {
    language: { value: language, configurable: true },
    languages: { value: [language], configurable: true },
  });
}
