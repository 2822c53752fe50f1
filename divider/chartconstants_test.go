package divider_test

import (
	"fmt"
	"log"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/divider"
)

func ExampleChartConstants() {
	out, err := divider.ChartConstants{SubgroupSize: 5}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("A2 %.4f, D3 %.4f, D4 %.4f\n", out.A2, out.D3, out.D4)
	// Output: A2 0.5768, D3 0.0000, D4 2.1145
}

func TestChartConstantsRefuse(t *testing.T) {
	_, err := divider.ChartConstants{SubgroupSize: 26}.Solve()
	assert.Equal(t, []string{"subgroup_size"}, refusedFields(err))
}
