// The page of a feed shows a newer answer when there is one: at once where nobody is at work in it, else when they say so.
const { feed, answer } = document.querySelector('[data-feed]').dataset;
const address = `/feeds/${feed}`;
const notice = document.getElementById('newer');

function showNewer() {
  if (!document.hasFocus()) {
    location.reload();
    return;
  }
  if (!notice.hidden) return;
  const link = document.createElement('a');
  link.href = location.pathname;
  link.textContent = 'Show it';
  notice.hidden = false;
  notice.append('There is a newer answer. ', link, '.');
}

const changes = new EventSource(`${address}/events`);
changes.addEventListener('changed', showNewer);
// What changed between the making of the page and the first moment of listening is told by nobody.
changes.addEventListener('open', async () => {
  const { ok, headers } = await fetch(`${address}.json`, { method: 'HEAD', cache: 'no-cache' });
  if (ok && headers.get('etag') !== `"${answer}"`) showNewer();
});
