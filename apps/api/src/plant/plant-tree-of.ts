import type { PlantTree } from '#contract/plant';
import type { Scope } from '../platform/scope.js';

/** What an auditor sees of the plant: lines, machines and gauges as they are, and only their customer's products with plans and specifications. */
export function plantTreeOf(tree: PlantTree, scope: Scope | null): PlantTree {
  if (!scope) return tree;
  const products = tree.products.filter(({ customer }) => customer === scope.customer);
  const theirs = new Set(products.map(({ id }) => id));
  return {
    ...tree, products, checkPlans: tree.checkPlans.filter(({ productId }) => theirs.has(productId)),
    specifications: tree.specifications.filter(({ productId, effectiveFrom }) => theirs.has(productId) && new Date(effectiveFrom) < scope.until),
  };
}
