import { speechPlatform } from './browser/api.ts';
import { liveEar, type LiveEar, type LiveParts } from './live.ts';
import { awakePlatform, stayAwake } from './platform/awake.ts';
import { microphone, permissionChanges } from './sound/microphone.ts';
import { platformRecorder } from './sound/recorder.ts';

/** What a live ear needs beside this browser itself. */
export type LiveNeeds = Omit<
  LiveParts<MediaStream>,
  'speech' | 'microphone' | 'recording' | 'page' | 'awake' | 'wait'
>;

/** A live ear over this browser's own microphone, recorder, speech API and screen. */
export function liveEarHere(needs: LiveNeeds, scope: Window & typeof globalThis = window): LiveEar {
  const { document, navigator } = scope;
  const page = awakePlatform(document, navigator);
  return liveEar<MediaStream>({
    ...needs,
    speech: speechPlatform(scope),
    microphone: microphone(
      // Missing on pages that are not secure, whatever the types say.
      navigator.mediaDevices as MediaDevices | undefined,
      undefined,
      permissionChanges(navigator),
    ),
    recording: platformRecorder(scope),
    page,
    awake: stayAwake(page),
  });
}
