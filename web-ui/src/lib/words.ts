/** Keep names with hyphens, and numbers with their units, on one line; for showing only. */
export function together(text: string): string {
  return text
    .replace(/(\w)-(?=\w)/g, "$1\u2011")
    .replace(/(\d) (?=(?:ft|yd|m|mph|lb|oz|g|kg|mm|in|s)\b)/g, "$1\u00a0");
}
