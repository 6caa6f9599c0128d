import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';

const LONGEST_PX = 1600;
const QUALITY = 0.82;

/** Small enough for a phone on poor signal, large enough to see a shell; without the place where it was taken. */
const smaller = async (file: File): Promise<Blob> => {
  const picture = await createImageBitmap(file);
  const share = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * share);
  canvas.height = Math.round(picture.height * share);
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob === null ? reject(new Error('no picture')) : resolve(blob)), 'image/jpeg', QUALITY);
  });
};

/** Photos of an entry, from the camera of the phone. */
export const PhotoField = ({
  photos,
  said,
}: {
  readonly photos: Signal<readonly Blob[]>;
  readonly said: Signal<string>;
}) => {
  const id = useId();
  const take = async (files: FileList | null): Promise<void> => {
    try {
      const taken = await Promise.all([...(files ?? [])].map(smaller));
      photos.value = [...photos.value, ...taken].slice(0, 12);
      said.value = '';
    } catch {
      said.value = 'This file is no picture that can be read.';
    }
  };
  return (
    <p class="photo-field">
      <label for={id} class="pill">
        {photos.value.length === 0 ? 'Photo' : `Photo (${photos.value.length})`}
      </label>
      <input
        id={id}
        class="for-voice"
        type="file"
        accept="image/*"
        multiple
        onChange={(event) => void take(event.currentTarget.files)}
      />
      {said.value}
    </p>
  );
};
