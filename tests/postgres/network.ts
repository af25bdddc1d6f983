import { connect, createServer, type Server, type Socket } from 'node:net';

/** What a network does: all arrives; nothing does, without a word; only what clients send; or connections are refused. */
type Way = 'open' | 'silent' | 'one-way' | 'refused';

/** A network between a client and a server on 127.0.0.1 that can be cut, and heals. */
export class Network {
  readonly #target: number;
  readonly #server: Server;
  readonly #sockets = new Set<Socket>();
  #way: Way = 'open';
  /** What a client says in plain bytes, after which nothing comes back to any. */
  #last: string | undefined;

  private constructor(target: number) {
    this.#target = target;
    this.#server = createServer((client) => this.#forward(client));
  }

  /** @param url of a server on 127.0.0.1 */
  static async before(url: string): Promise<Network> {
    const network = new Network(Number(new URL(url).port));
    await new Promise<void>((resolve) => network.#server.listen(0, '127.0.0.1', resolve));
    return network;
  }

  /** The address with this network before the server. */
  url(url: string): string {
    const address = new URL(url);
    address.port = String((this.#server.address() as { port: number }).port);
    return address.href;
  }

  /** Bytes go nowhere any more, and nobody is told; new connections are taken and hear nothing. */
  stopForwarding(): void {
    this.#way = 'silent';
  }

  /** As soon as a client has said this, it arrives, but no answer comes back. */
  stopAnswersAfter(said: string): void {
    this.#last = said;
  }

  /** Whether what was waited for has been said. */
  get hasStoppedAnswers(): boolean {
    return this.#way === 'one-way';
  }

  /** Ends every connection, and every one that is opened from now on. */
  drop(): void {
    this.#way = 'refused';
    for (const socket of this.#sockets) socket.destroy();
  }

  /** Connections work again; those that were cut end. */
  heal(): void {
    this.drop();
    this.#last = undefined;
    this.#way = 'open';
  }

  async close(): Promise<void> {
    this.drop();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #forward(client: Socket): void {
    if (this.#way === 'refused') {
      client.destroy();
      return;
    }
    const server = connect(this.#target, '127.0.0.1');
    for (const [from, to] of [
      [client, server],
      [server, client],
    ]) {
      this.#sockets.add(from);
      from.on('error', () => undefined);
      from.on('close', () => {
        this.#sockets.delete(from);
        to.destroy();
      });
      from.on('data', (bytes: Buffer) => {
        if (from === client && this.#last !== undefined && bytes.includes(this.#last)) this.#way = 'one-way';
        if (this.#way === 'open' || (this.#way === 'one-way' && from === client)) to.write(bytes);
      });
    }
  }
}
