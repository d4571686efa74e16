import { Image } from '@mantine/core';
import { useEffect, useState } from 'react';

/** A picture of this browser; its address is given back when it is not shown any more. */
export function BlobImage({ blob, alt }: { blob: Blob; alt: string }) {
  const [source, setSource] = useState<string | null>(null);
  useEffect(() => {
    const address = URL.createObjectURL(blob);
    setSource(address);
    return () => URL.revokeObjectURL(address);
  }, [blob]);
  return <Image src={source} alt={alt} radius="md" h={120} fit="contain" />;
}
