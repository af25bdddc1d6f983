/** Ends the worker threads of the pattern engine, which would keep a command from ending; loads it if nobody did. */
export async function endPatternWorkers(): Promise<void> {
  const { defaultPool } = await import('../match/engine.ts');
  await defaultPool().close();
}
