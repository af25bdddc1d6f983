import { definePage } from '../../frame/page.ts';
import { textIn } from '../../parts/facts.ts';
import { Aligned, Compare, DevicesToChoose } from './compare.graphql.ts';
import { type CompareData, CompareView } from './view.tsx';

export const page = definePage<CompareData>({
  async load({ query }, ask, signal) {
    const ids = query.getAll('device').filter((id) => id !== '');
    const text = textIn(query, 'search');
    const [answer, aligned, choice] = await Promise.all([
      ids.length > 0 ? ask(Compare, { ids }, signal) : undefined,
      ids.length > 1 ? ask(Aligned, { ids }, signal) : undefined,
      text === '' ? undefined : ask(DevicesToChoose, { text }, signal),
    ]);
    const trouble = [answer, aligned, choice].flatMap((one) => one?.troubles ?? [])[0]?.message;
    return { answer: answer?.data, aligned: aligned?.data, choice: choice?.data, trouble };
  },
  heading: ({ answer }) => {
    const names = answer?.compareDevices?.columns.map(({ device }) => device.name) ?? [];
    return { title: names.length > 0 ? `${names.join(', ')}: compared` : 'Compare devices' };
  },
  View: CompareView,
});
