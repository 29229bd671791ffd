/** The names of the machines that a plan lists. */
export function plantNames(plan: unknown): string[] {
  const list = typeof plan === 'object' && plan !== null && 'plant' in plan && Array.isArray(plan.plant) ? (plan.plant as unknown[]) : [];
  return list.flatMap((machine) =>
    typeof machine === 'object' && machine !== null && 'name' in machine && typeof machine.name === 'string' ? [machine.name] : [],
  );
}
