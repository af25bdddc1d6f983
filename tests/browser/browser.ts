import chromium from '@sparticuz/chromium';
import { type Browser, chromium as launcher } from 'playwright-core';

// The host names of the whole world but one lead nowhere: whatever a page needs must come from the service.
const NO_NETWORK = '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1';

/**
 * A browser without a network. On Linux it comes from the npm registry with the development tools; elsewhere
 * the installed Chrome is taken.
 */
export async function openBrowser(): Promise<Browser> {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    return launcher.launch({ channel: 'chrome', args: [NO_NETWORK] });
  }
  return launcher.launch({
    executablePath: await chromium.executablePath(),
    // The package's own arguments fit a function that opens one page and ends; these keep the browser whole.
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', NO_NETWORK],
  });
}
