#include "textflag.h"

// Loops over eight entries, in two registers of four.

// PAIRS is dst = a OP b, 16 entries at a time and 8 at the end.
#define PAIRS(OP) \
	MOVQ dst+0(FP), DI \
	MOVQ a+8(FP), SI \
	MOVQ b+16(FP), DX \
	MOVQ n+24(FP), CX \
	XORQ AX, AX \
	SUBQ $16, CX \
	JLT  rest \
loop: \
	VMOVUPD (SI)(AX*8), Y0 \
	VMOVUPD 32(SI)(AX*8), Y1 \
	VMOVUPD 64(SI)(AX*8), Y2 \
	VMOVUPD 96(SI)(AX*8), Y3 \
	OP (DX)(AX*8), Y0, Y0 \
	OP 32(DX)(AX*8), Y1, Y1 \
	OP 64(DX)(AX*8), Y2, Y2 \
	OP 96(DX)(AX*8), Y3, Y3 \
	VMOVUPD Y0, (DI)(AX*8) \
	VMOVUPD Y1, 32(DI)(AX*8) \
	VMOVUPD Y2, 64(DI)(AX*8) \
	VMOVUPD Y3, 96(DI)(AX*8) \
	ADDQ $16, AX \
	CMPQ AX, CX \
	JLE  loop \
rest: \
	ADDQ $16, CX \
	CMPQ AX, CX \
	JGE  done \
	VMOVUPD (SI)(AX*8), Y0 \
	VMOVUPD 32(SI)(AX*8), Y1 \
	OP (DX)(AX*8), Y0, Y0 \
	OP 32(DX)(AX*8), Y1, Y1 \
	VMOVUPD Y0, (DI)(AX*8) \
	VMOVUPD Y1, 32(DI)(AX*8) \
done: \
	VZEROUPPER \
	RET

// func mulWide(dst, a, b *float64, n int)
TEXT ·mulWide(SB), NOSPLIT, $0-32
	PAIRS(VMULPD)

// func addWide(dst, a, b *float64, n int)
TEXT ·addWide(SB), NOSPLIT, $0-32
	PAIRS(VADDPD)

// func scaleWide(dst, a *float64, f float64, n int)
TEXT ·scaleWide(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ a+8(FP), SI
	VBROADCASTSD f+16(FP), Y4
	MOVQ n+24(FP), CX
	XORQ AX, AX
scaleLoop:
	VMULPD  (SI)(AX*8), Y4, Y0
	VMULPD  32(SI)(AX*8), Y4, Y1
	VMOVUPD Y0, (DI)(AX*8)
	VMOVUPD Y1, 32(DI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  scaleLoop
	VZEROUPPER
	RET

// func runsWide(dst, src, m *float64, place *int32, n, count int)
TEXT ·runsWide(SB), NOSPLIT, $0-48
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ m+16(FP), DX
	MOVQ place+24(FP), R8
	MOVQ n+32(FP), CX
	MOVQ count+40(FP), R9
runsNext:
	MOVLQSX (R8), R10
	LEAQ (DX)(R10*8), R11
	XORQ AX, AX
runsLoop:
	VMOVUPD (SI)(AX*8), Y0
	VMOVUPD 32(SI)(AX*8), Y1
	VMULPD  (R11)(AX*8), Y0, Y0
	VMULPD  32(R11)(AX*8), Y1, Y1
	VMOVUPD Y0, (DI)(AX*8)
	VMOVUPD Y1, 32(DI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  runsLoop
	LEAQ (SI)(CX*8), SI
	LEAQ (DI)(CX*8), DI
	LEAQ (R8)(CX*4), R8
	DECQ R9
	JNZ  runsNext
	VZEROUPPER
	RET

// func gatherWide(dst, src, m *float64, place *int32, n int)
TEXT ·gatherWide(SB), NOSPLIT, $0-40
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ m+16(FP), DX
	MOVQ place+24(FP), R8
	MOVQ n+32(FP), CX
	XORQ AX, AX
gatherLoop:
	MOVLQSX (R8)(AX*4), R9
	MOVLQSX 4(R8)(AX*4), R10
	MOVLQSX 8(R8)(AX*4), R11
	MOVLQSX 12(R8)(AX*4), R12
	VMOVSD  (DX)(R9*8), X0
	VMOVHPD (DX)(R10*8), X0, X0
	VMOVSD  (DX)(R11*8), X1
	VMOVHPD (DX)(R12*8), X1, X1
	VINSERTF128 $1, X1, Y0, Y0
	MOVLQSX 16(R8)(AX*4), R9
	MOVLQSX 20(R8)(AX*4), R10
	MOVLQSX 24(R8)(AX*4), R11
	MOVLQSX 28(R8)(AX*4), R12
	VMOVSD  (DX)(R9*8), X2
	VMOVHPD (DX)(R10*8), X2, X2
	VMOVSD  (DX)(R11*8), X3
	VMOVHPD (DX)(R12*8), X3, X3
	VINSERTF128 $1, X3, Y2, Y2
	VMULPD  (SI)(AX*8), Y0, Y0
	VMULPD  32(SI)(AX*8), Y2, Y2
	VMOVUPD Y0, (DI)(AX*8)
	VMOVUPD Y2, 32(DI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  gatherLoop
	VZEROUPPER
	RET

// func foldWide(dst, c *float64, s, count int)
TEXT ·foldWide(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ c+8(FP), SI
	MOVQ s+16(FP), CX
	MOVQ count+24(FP), R9
foldNext:
	LEAQ (SI)(CX*8), DX
	XORQ AX, AX
foldLoop:
	VMOVUPD (SI)(AX*8), Y0
	VADDPD  (DX)(AX*8), Y0, Y0
	VMOVUPD Y0, (DI)(AX*8)
	ADDQ $4, AX
	CMPQ AX, CX
	JLT  foldLoop
	LEAQ (DX)(CX*8), SI
	LEAQ (DI)(CX*8), DI
	DECQ R9
	JNZ  foldNext
	VZEROUPPER
	RET

// func fold2Wide(dst, c *float64, count int)
TEXT ·fold2Wide(SB), NOSPLIT, $0-24
	MOVQ dst+0(FP), DI
	MOVQ c+8(FP), SI
	MOVQ count+16(FP), CX
fold2Loop:
	VMOVUPD (SI), Y0
	VMOVUPD 32(SI), Y1
	VPERM2F128 $0x20, Y1, Y0, Y2
	VPERM2F128 $0x31, Y1, Y0, Y3
	VADDPD  Y3, Y2, Y2
	VMOVUPD Y2, (DI)
	ADDQ $64, SI
	ADDQ $32, DI
	DECQ CX
	JNZ  fold2Loop
	VZEROUPPER
	RET

// func fold1Wide(dst, c *float64, count int)
TEXT ·fold1Wide(SB), NOSPLIT, $0-24
	MOVQ dst+0(FP), DI
	MOVQ c+8(FP), SI
	MOVQ count+16(FP), CX
fold1Loop:
	VMOVUPD (SI), Y0
	VMOVUPD 32(SI), Y1
	VHADDPD Y1, Y0, Y2
	VPERMPD $0xd8, Y2, Y2
	VMOVUPD Y2, (DI)
	ADDQ $64, SI
	ADDQ $32, DI
	DECQ CX
	JNZ  fold1Loop
	VZEROUPPER
	RET

// func sumsWide(c *float64, n int, v, e *[8]float64)
TEXT ·sumsWide(SB), NOSPLIT, $0-32
	MOVQ c+0(FP), SI
	MOVQ n+8(FP), CX
	MOVQ v+16(FP), DI
	MOVQ e+24(FP), DX
	VPCMPEQQ Y6, Y6, Y6
	VPSRLQ $1, Y6, Y6
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1
	VXORPD Y2, Y2, Y2
	VXORPD Y3, Y3, Y3
	XORQ AX, AX
sumsLoop:
	VMOVUPD (SI)(AX*8), Y4
	VMOVUPD 32(SI)(AX*8), Y5
	VADDPD  Y4, Y0, Y0
	VADDPD  Y5, Y1, Y1
	VANDPD  Y6, Y4, Y4
	VANDPD  Y6, Y5, Y5
	VADDPD  Y4, Y2, Y2
	VADDPD  Y5, Y3, Y3
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  sumsLoop
	VMOVUPD Y0, (DI)
	VMOVUPD Y1, 32(DI)
	VMOVUPD Y2, (DX)
	VMOVUPD Y3, 32(DX)
	VZEROUPPER
	RET

// func sumWide(c *float64, n int, v *[8]float64)
TEXT ·sumWide(SB), NOSPLIT, $0-24
	MOVQ c+0(FP), SI
	MOVQ n+8(FP), CX
	MOVQ v+16(FP), DI
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1
	XORQ AX, AX
sumLoop:
	VADDPD  (SI)(AX*8), Y0, Y0
	VADDPD  32(SI)(AX*8), Y1, Y1
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  sumLoop
	VMOVUPD Y0, (DI)
	VMOVUPD Y1, 32(DI)
	VZEROUPPER
	RET

// END is the largest or the smallest entry without its sign, of those in Y0 and Y1 and
// the table; Y6 masks signs. MAXPD and MINPD give their second source where either is
// not a number: what was found so far.
#define END(OP, LAST) \
loop: \
	VANDPD (SI)(AX*8), Y6, Y4 \
	VANDPD 32(SI)(AX*8), Y6, Y5 \
	OP Y0, Y4, Y0 \
	OP Y1, Y5, Y1 \
	ADDQ $8, AX \
	CMPQ AX, CX \
	JLT  loop \
	OP Y1, Y0, Y0 \
	VEXTRACTF128 $1, Y0, X1 \
	OP X1, X0, X0 \
	VPERMILPD $1, X0, X1 \
	LAST X1, X0, X0

// func largestWide(c *float64, n int) float64
TEXT ·largestWide(SB), NOSPLIT, $0-24
	MOVQ c+0(FP), SI
	MOVQ n+8(FP), CX
	VPCMPEQQ Y6, Y6, Y6
	VPSRLQ $1, Y6, Y6
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1
	XORQ AX, AX
	END(VMAXPD, VMAXSD)
	VMOVSD X0, ret+16(FP)
	VZEROUPPER
	RET

// func leastWide(c *float64, n int) float64
TEXT ·leastWide(SB), NOSPLIT, $0-24
	MOVQ c+0(FP), SI
	MOVQ n+8(FP), CX
	VPCMPEQQ Y6, Y6, Y6
	VPSLLQ $53, Y6, Y0
	VPSRLQ $1, Y0, Y0
	VMOVAPD Y0, Y1
	VPSRLQ $1, Y6, Y6
	XORQ AX, AX
	END(VMINPD, VMINSD)
	VMOVSD X0, ret+16(FP)
	VZEROUPPER
	RET
