import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

/** What only the colours of a theme decide; everything else is the same in each of them. */
const COLOUR_RULES = ['color-contrast', 'link-in-text-block']

/** Which rules to hold a page to: all, or those that a theme or a width decides. */
export type RuleChoice = 'all' | 'colours' | 'all but colours'

/** What stands in the way of somebody on this page, one line each: the rule, how many, and the first place. */
export const barriersOn = async (page: Page, choice: RuleChoice): Promise<string[]> => {
  const asked = new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ['violations'] })
  if (choice === 'colours') asked.withRules(COLOUR_RULES)
  else asked.withTags(RULES)
  if (choice === 'all but colours') asked.disableRules(COLOUR_RULES)
  const { violations } = await asked.analyze()
  return violations.map(({ id, help, nodes }) => {
    const [first] = nodes
    return `${id}: ${help} (${nodes.length}, first ${first?.target.join(' ')}: ${first?.failureSummary})`
  })
}

/** How far the page itself can be moved sideways [px], and what reaches past its edge. */
export const sidewaysOf = (page: Page): Promise<{ by: number; past: string[] }> =>
  page.evaluate(() => {
    const wide = document.documentElement.clientWidth
    const by = Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) - wide
    if (by <= 0) return { by: 0, past: [] }
    const scrolls = (element: Element | null): boolean =>
      element !== null &&
      element !== document.body &&
      (/auto|scroll|hidden|clip/.test(getComputedStyle(element).overflowX) || scrolls(element.parentElement))
    const past = [...document.body.querySelectorAll('*')]
      .filter(
        (one) =>
          one.checkVisibility() &&
          one.getBoundingClientRect().right > wide + 0.5 &&
          !scrolls(one.parentElement),
      )
      .map((one) => `${one.tagName.toLowerCase()}.${one.className}: ${one.textContent?.slice(0, 60)}`)
    return { by, past: past.slice(0, 5) }
  })
