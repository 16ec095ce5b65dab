/**
 * `npm run bench [-- ear nonSpokes member chain] [--quick]`: accuracy and speed as tables, each beside references in the same run.
 * Nothing here is asserted; what needs no clock is asserted in the tests.
 */
const parts = {
  ear: async () => (await import('./ear.ts')).benchEar(),
  nonSpokes: async () => (await import('./nonSpokes.ts')).benchNonSpokes(),
  member: async () => (await import('./member.ts')).benchMember(),
  chain: async () => {
    const { benchChain } = await import('./chain.ts');
    const wheels = process.argv.includes('--quick') ? 6 : 60;
    const how = { crossing: 'held', direction: 'inPlane' } as const;
    await benchChain({ wheels, snrDb: 25, style: 'rich', how });
    await benchChain({ wheels, snrDb: 25, style: 'full', how });
  },
} as const;

const asked = process.argv.slice(2).filter((word): word is keyof typeof parts => word in parts);
for (const name of asked.length > 0 ? asked : (Object.keys(parts) as (keyof typeof parts)[])) {
  console.log(`\n=== ${name} ===`);
  await parts[name]();
}

export {};
