/** A path inside an archive as seen from a folder of it: `..` and `.` worked out, `%20` and the like read, nothing above the top. */
export function resolvePath(folder: string, address: string): string | undefined {
  const bare = address.replace(/[?#].*$/, '');
  if (bare === '' || /^[a-z][a-z0-9+.-]*:/i.test(bare) || bare.startsWith('//')) return undefined;
  let path: string;
  try {
    path = decodeURIComponent(bare);
  } catch {
    path = bare;
  }
  const steps = path.startsWith('/') ? [] : folder.split('/').filter(Boolean);
  for (const step of path.split('/')) {
    if (step === '..') steps.pop();
    else if (step !== '.' && step !== '') steps.push(step);
  }
  return steps.join('/');
}

export function folderOf(path: string): string {
  return path.slice(0, path.lastIndexOf('/') + 1);
}

/** The ending of a name in small letters, without its dot. */
export function extensionOf(path: string): string {
  return /\.([A-Za-z0-9]{1,10})$/.exec(path)?.[1]?.toLowerCase() ?? '';
}
