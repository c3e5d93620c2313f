package web

import "encoding/binary"

// likeFor is how many bytes in a row have to be alike to end a run.
const likeFor = 16

// filled marks a run of one byte over and over.
const filled = 1 << 31

// over is a plane told by what it has other than another of the same length: the
// length of what follows, then runs. A run is how many bytes are alike before it,
// how many are told, with filled where the one byte that follows is all of them,
// and the bytes. Numbers have four bytes, the lowest first.
func over(base, dots []byte) []byte {
	out := make([]byte, 4)
	end := 0 // of the last run
	for i := 0; i < len(dots); i++ {
		if dots[i] == base[i] {
			continue
		}
		from, to := i, i+1
		for ; i < len(dots) && i < to+likeFor; i++ {
			if dots[i] != base[i] {
				to = i + 1
			}
		}
		out = appendRun(binary.LittleEndian.AppendUint32(out, uint32(from-end)), dots[from:to])
		end, i = to, to-1
	}
	binary.LittleEndian.PutUint32(out, uint32(len(out)-4))
	return out
}

func appendRun(out, dots []byte) []byte {
	same := 1
	for same < len(dots) && dots[same] == dots[0] {
		same++
	}
	n := uint32(len(dots))
	if same == len(dots) {
		return append(binary.LittleEndian.AppendUint32(out, n|filled), dots[0])
	}
	return append(binary.LittleEndian.AppendUint32(out, n), dots...)
}
