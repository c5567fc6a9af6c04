/** A request that is not answered as it was asked; the message is one sentence for whoever asked. */
export class Refused extends Error {
  override readonly name = 'Refused';
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  constructor(status: number, sentence: string, headers: Readonly<Record<string, string>> = {}) {
    super(sentence);
    this.status = status;
    this.headers = headers;
  }
}
