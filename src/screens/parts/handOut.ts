/** Gives a file to the reader: the share sheet where there is one, else a download. */
export async function handOut(name: string, blob: Blob, share: boolean): Promise<void> {
  const file = new File([blob], name, { type: blob.type });
  if (share && typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] })) {
    try {
      await navigator.share({ files: [file], title: name });
      return;
    } catch (error) {
      // Put away by the reader: nothing to do. Anything else: fall through to the download.
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has its own reference by then; a minute is ample on a slow phone.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
