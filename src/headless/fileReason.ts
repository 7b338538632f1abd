const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EISDIR: 'it is a folder',
  EACCES: 'permission was refused',
  EPERM: 'permission was refused',
  ENOTDIR: 'part of its path is not a folder',
  ELOOP: 'its links lead in a circle',
  ENAMETOOLONG: 'its name is too long',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk can only be read',
  EMFILE: 'too many files are open',
  ENXIO: 'it is a device or socket that cannot be opened',
}

/** Why the system did not let a file be opened, read or written, in words. */
export function fileReason(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException
  return (code !== undefined ? reasons[code] : undefined) ?? code ?? message
}
