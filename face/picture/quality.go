package picture

// luma is the quantisation table for brightness that ITU-T T.81 K.1 gives as an
// example, in zigzag order. Most encoders scale it by a quality from 1 to 100, as
// the library of the Independent JPEG Group does.
var luma = [64]int{
	16, 11, 12, 14, 12, 10, 16, 14, 13, 14, 18, 17, 16, 19, 24, 40,
	26, 24, 22, 22, 24, 49, 35, 37, 29, 40, 58, 51, 61, 60, 57, 51,
	56, 55, 64, 72, 92, 78, 64, 68, 87, 69, 55, 56, 80, 109, 81, 87,
	95, 98, 103, 104, 103, 62, 77, 113, 121, 112, 100, 120, 92, 101, 103, 99,
}

// Quality is how much of a JPEG was kept, on the usual scale of 1 to 100, as its
// table for brightness tells; 0 of a file that is no JPEG or has no such table.
// Encoders with tables of their own are placed by how coarse theirs is.
func Quality(data []byte) int {
	table, ok := brightness(data)
	if !ok {
		return 0
	}
	sum, of := 0, 0
	for i, q := range table {
		sum, of = sum+int(q), of+luma[i]
	}
	scale := 100 * float64(sum) / float64(of) // per cent of the example's
	if scale <= 100 {
		return min(max(int(100-scale/2+0.5), 1), 100)
	}
	return min(max(int(5000/scale+0.5), 1), 100)
}

// brightness finds quantisation table 0 (T.81 B.2.4.1).
func brightness(data []byte) (table [64]uint16, ok bool) {
	for i := 2; i+4 <= len(data) && data[i] == 0xff; {
		marker, n := data[i+1], int(data[i+2])<<8|int(data[i+3])
		if marker == 0xda || n < 2 || i+2+n > len(data) {
			break
		}
		part := data[i+4 : i+2+n]
		for marker == 0xdb && len(part) > 0 {
			wide := int(part[0] >> 4)
			size := 64 * (1 + wide)
			if wide > 1 || len(part) < 1+size {
				return table, false
			}
			if part[0]&15 == 0 {
				for k := range table {
					if wide == 1 {
						table[k] = uint16(part[1+2*k])<<8 | uint16(part[2+2*k])
					} else {
						table[k] = uint16(part[1+k])
					}
				}
				return table, true
			}
			part = part[1+size:]
		}
		i += 2 + n
	}
	return table, false
}
