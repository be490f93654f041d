package store

import "context"

// ShortSeal is the newest seal of a job as it is printed, empty while the job is not sealed.
func (f *File) ShortSeal(number uint64) (string, error) {
	all, err := f.SealsOf(number)
	if err != nil || len(all) == 0 {
		return "", err
	}
	return all[len(all)-1].Short, nil
}

// BackupTo does what Backup does into a folder of the caller's choice, which must be there.
func (f *File) BackupTo(ctx context.Context, dir string) (string, error) {
	return f.backUpTo(ctx, dir)
}
